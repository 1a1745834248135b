//! Figures of cloth that are believed only once they are confirmed.

use crate::{desk::failure::Done, shelf::shelved::Shelved};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    cloth::{ClothDoubt, ClothFinding},
    ledger::Quantity,
    quantity::Micrometres,
    shrinkage::{Chosen, Direction, Ratio},
};

/// Refuses doubts that were not confirmed, all of them at once; `fields` are those of the request, lengthwise and crosswise.
pub(crate) fn ask(shows: &str, fields: [&str; 2], doubts: &[ClothDoubt], really: bool) -> Done<()> {
    let Some(first) = doubts.first().filter(|_| !really) else {
        return Ok(());
    };
    let [lengthwise, crosswise] = fields;
    let field = match first.direction() {
        Direction::Lengthwise => lengthwise,
        Direction::Crosswise => crosswise,
    };
    Err(doubted(shows, doubts).field(field).into())
}

fn doubted(shows: &str, doubts: &[ClothDoubt]) -> Problem {
    let texts: Vec<String> = doubts.iter().map(ToString::to_string).collect();
    Problem::new(
        ProblemType::NeedsConfirmation,
        format!("{shows} {}", texts.join(" and ")),
    )
    .hint("measure again; if it is right, confirm with --really")
    .with("doubts", texts)
}

/// Refuses more than 5 % above what the book has of thread or trims; any of it may have been used.
fn ask_of_longer(shelved: &Shelved, found: Quantity, really: bool) -> Done<()> {
    let was = shelved.stored.piece.quantity;
    if really || i128::from(found.get()) * 100 <= i128::from(was.get()) * 105 {
        return Ok(());
    }
    let detail = format!(
        "{} would be more than 5 % longer than it was",
        shelved.code()
    );
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .hint("measure again; if it is right, confirm with --really")
        .with("was", was.get())
        .with("found", found.get())
        .into())
}

/// Refuses what was found of a piece where it is not confirmed and more than cloth loses or grows, or than was
/// expected of it. `width` is its full width where that was measured, too.
pub(crate) fn ask_of_piece(
    shelved: &Shelved,
    length: Quantity,
    width: Option<Micrometres>,
    expected: Option<&Chosen>,
    really: bool,
) -> Done<()> {
    let Some(before) = shelved.stored.piece.rectangle else {
        return ask_of_longer(shelved, length, really);
    };
    let beside =
        |before: Micrometres, after: Micrometres| Ratio::new(before.get(), after.get()).ok();
    let found = ClothFinding {
        lengthwise: Ratio::new(shelved.stored.piece.quantity.get(), length.get()).ok(),
        crosswise: width.and_then(|width| beside(before.full, width)),
        expected_lengthwise: expected.map(|chosen| chosen.length),
        expected_crosswise: expected.and_then(|chosen| chosen.width),
        beside_lot: width
            .zip(shelved.record.sheet.full_width_m)
            .and_then(|(own, lot)| beside(lot.0, own)),
    };
    let doubts = found.doubts_of_piece();
    if really || doubts.is_empty() {
        return Ok(());
    }
    Err(doubted(&format!("{} shows", shelved.code()), &doubts).into())
}
