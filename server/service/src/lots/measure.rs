//! Measuring and weighing pieces again; the value stays.

use crate::{
    context::{Context, Entry},
    detail::{Detail, PieceBefore},
    failure::{Done, Failure, invalid},
    lots::changed,
    perform::Perform,
    promises,
    shelved::Shelved,
};
use ellwand_contract::{
    Problem, ProblemType,
    lots::{MeasurePiece, PieceChanged, WeighPiece},
};
use ellwand_domain::{
    cloth,
    ledger::{Account, AccountKind, Movement, Quantity, Rectangle},
    quantity::{Micrometres, MilliTex, Milligrams, Millionths},
    setting::{BookingKind, MeasuredAfter},
    thread,
};
use ellwand_storage::{Subject, Tx};

/// How a piece was, for taking the act back; its structure is counted on.
pub(crate) fn before(shelved: &mut Shelved) -> PieceBefore {
    let stored = &mut shelved.stored;
    let before = PieceBefore {
        piece: stored.piece.id,
        quantity: stored.piece.quantity.get(),
        full_width: stored.piece.rectangle.map(|rectangle| rectangle.full.get()),
        selvedges: stored.piece.rectangle.map(|rectangle| rectangle.selvedges.get()),
        preparation: stored.preparation,
        prepared: stored.prepared,
        mass_factor_ppm: stored.mass_factor_ppm,
        flaws: stored.piece.flaws.clone(),
        structure: stored.structure + 1,
    };
    stored.structure += 1;
    before
}

/// The widths of a piece that is `full` wide now; `scale`: because the cloth itself changed, selvedges and all. Narrower than
/// its selvedges were is a slip of the ruler either way.
pub(crate) fn widths(shelved: &Shelved, full: Option<Micrometres>, scale: bool) -> Done<Option<Rectangle>> {
    let metric = ellwand_domain::quantity::Units::Metric;
    match (shelved.stored.piece.rectangle, full) {
        (None, Some(_)) => Err(invalid("width", format!("{} has no width", shelved.code()))),
        (Some(rectangle), Some(full)) if full <= rectangle.selvedges => {
            let wide = full.show_width(metric);
            let detail =
                format!("{wide} does not leave anything between the selvedges of {}", shelved.code());
            Err(invalid("width", detail))
        }
        (Some(rectangle), Some(full)) if scale => {
            Ok(Some(rectangle.became(full).map_err(|error| promises::internal(shelved, &error))?))
        }
        (Some(rectangle), Some(full)) => Ok(Some(Rectangle { full, ..rectangle })),
        (rectangle, None) => Ok(rectangle),
    }
}

/// Sets what a piece measures, `rectangle` across, and books the difference against normal loss without value. A length more
/// than 5 % above the former needs `really`. Where the cloth itself changed (`scale`) so did its mass per area.
pub(crate) fn correct(
    shelved: &mut Shelved,
    found: Quantity,
    rectangle: Option<Rectangle>,
    scale: bool,
    really: bool,
    movements: &mut Vec<Movement>,
) -> Done<()> {
    let was = shelved.stored.piece.quantity;
    let limit = i128::from(was.get()) * 105;
    if i128::from(found.get()) * 100 > limit && !really {
        let detail = format!("{} would be more than 5 % longer than it was", shelved.code());
        return Err(Problem::new(ProblemType::NeedsConfirmation, detail)
            .hint("measure again; if it is so, say --really")
            .with("was", was.get())
            .with("found", found.get())
            .into());
    }
    if scale && let Some((before, after)) = shelved.stored.piece.rectangle.zip(rectangle) {
        let area = |length: Quantity, width: Rectangle| -> Done<_> {
            Ok((Micrometres::new(length.get())?, width.full))
        };
        shelved.stored.mass_factor_ppm =
            cloth::heavier(shelved.stored.mass_factor_ppm, area(was, before)?, area(found, after)?);
    }
    shelved
        .stored
        .piece
        .remeasure(found, rectangle, scale)
        .map_err(|error| Problem::new(ProblemType::InvalidValue, format!("{}: {error}", shelved.code())))?;
    let (piece, nothing) =
        (Account::piece(shelved.stored.piece.id), Account::new(AccountKind::NormalLoss, 0));
    if found < was {
        movements.push(Movement::new(piece, nothing, was.minus(found)?, Millionths::ZERO));
    } else if found > was {
        movements.push(Movement::new(nothing, piece, found.minus(was)?, Millionths::ZERO));
    }
    Ok(())
}

impl Perform for MeasurePiece {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<PieceChanged, Failure> {
        let shelved = Shelved::load(tx, self.piece)?;
        let found = shelved.parse("found", &self.found)?;
        let width = self.width.as_ref().map(|width| width.value());
        let scale =
            matches!(self.after, MeasuredAfter::Washing | MeasuredAfter::Pressing | MeasuredAfter::Resting);
        let how = format!("measured after {}", self.after);
        remeasure(
            tx,
            context,
            shelved,
            Found { found, width, scale, really: self.really, how, notes: Vec::new() },
            self.date,
        )
    }
}

impl Perform for WeighPiece {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<PieceChanged, Failure> {
        let shelved = Shelved::load(tx, self.piece)?;
        let sheet = &shelved.record.sheet;
        if shelved.counted() {
            let detail = format!("{} is counted, not weighed", shelved.code());
            return Err(Problem::from(invalid("piece", detail))
                .hint("count it and say so with ellwand lot measure")
                .into());
        }
        let mass = |field: &str, text: &str| {
            text.parse::<Milligrams>().map_err(|error| invalid(field, error.to_string()))
        };
        let gross = mass("gross", &self.gross)?;
        let tare = match (&self.tare, &sheet.tare_g) {
            (Some(text), _) => mass("tare", text)?,
            (None, Some(grams)) => mass("tare", &format!("{grams}g"))?,
            (None, None) => Milligrams::ZERO,
        };
        if gross <= tare {
            let detail = format!(
                "{} weigh no more than the empty reel, {}",
                gross.show(context.units()),
                tare.show(context.units())
            );
            return Err(invalid("gross", detail));
        }
        let net = Milligrams::new(gross.get() - tare.get())?;
        let unknown = |what: &str| -> Failure {
            Problem::new(
                ProblemType::Unknown,
                format!("{} cannot be weighed: its {what} is unknown", shelved.code()),
            )
            .hint("enter it with ellwand lot edit")
            .into()
        };
        let found = match (&sheet.tex, shelved.mass()?, shelved.stored.piece.rectangle) {
            (Some(tex), ..) => {
                let tex = MilliTex::from_decimal_tex(tex)?;
                thread::length_on_reel(net, tex)?
            }
            (None, Some(mass), Some(rectangle)) => cloth::length_by_mass(net, mass, rectangle.full)
                .map_err(|error| invalid("gross", error.to_string()))?,
            (None, None, Some(_)) => return Err(unknown("mass per area")),
            (None, ..) => return Err(unknown("yarn count")),
        };
        let notes = vec![format!("{} net by weight: an estimate", net.show(context.units()))];
        let how = "weighed".to_owned();
        let found = Found { found: found.into(), width: None, scale: false, really: self.really, how, notes };
        remeasure(tx, context, shelved, found, self.date)
    }
}

struct Found {
    found: Quantity,
    width: Option<Micrometres>,
    scale: bool,
    really: bool,
    how: String,
    notes: Vec<String>,
}

fn remeasure(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    mut shelved: Shelved,
    mut found: Found,
    date: Option<chrono::NaiveDate>,
) -> Done<PieceChanged> {
    let day = context.day(date)?;
    shelved.check_day(day)?;
    if shelved.stored.piece.quantity.is_zero() {
        return Err(used_up(&shelved));
    }
    let booking = context.next_booking(tx)?;
    let was = shelved.show(context, shelved.stored.piece.quantity);
    let kept = before(&mut shelved);
    let mut movements = Vec::new();
    pooled_difference(tx, context, &shelved, &found, &mut movements)?;
    let widths = widths(&shelved, found.width, found.scale)?;
    correct(&mut shelved, found.found, widths, found.scale, found.really, &mut movements)?;
    let because = format!("{} was {}", shelved.code(), found.how);
    let settled = promises::resettle(tx, context, booking, &mut shelved, &because)?;
    shelved.save(tx, day)?;
    let now = shelved.show(context, shelved.stored.piece.quantity);
    let summary =
        format!("{} {} {}: {was} → {now}.", shelved.code(), shelved.record.material.name, found.how);
    let mut entry = Entry::new(BookingKind::Measured, day, summary);
    entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
    entry.movements = movements;
    entry.detail = Detail::Remeasured { before: kept };
    context.book(tx, booking, entry)?;
    changed(tx, context, booking, &shelved, Vec::new(), settled, std::mem::take(&mut found.notes))
}

/// Thread and trims found short or long change the quantity of their layers too; their value stays.
fn pooled_difference(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &Shelved,
    found: &Found,
    movements: &mut Vec<Movement>,
) -> Done<()> {
    if shelved.stored.piece.rectangle.is_some() || shelved.record.lot.owner_id.is_some() {
        return Ok(());
    }
    let (was, now) = (shelved.stored.piece.quantity, found.found);
    let mut layers = tx.layers(shelved.record.material.id)?;
    let own = layers.iter().position(|layer| layer.lot_id == Some(shelved.record.lot.id));
    let index = own.or_else(|| layers.iter().position(|layer| layer.quantity > 0)).unwrap_or(0);
    let Some(layer) = layers.get_mut(index) else { return Ok(()) };
    let nothing = Account::new(AccountKind::NormalLoss, 0);
    if now < was {
        let less = was.minus(now)?;
        if less.get() >= layer.quantity {
            let detail = format!("{} would leave its cost layer empty with a value", shelved.code());
            let hint = format!("take {} for a garment instead", shelved.show(context, less));
            return Err(Problem::new(ProblemType::WrongState, detail).hint(hint).into());
        }
        layer.quantity -= less.get();
        movements.push(Movement::new(Account::layer(layer.id), nothing, less, Millionths::ZERO));
    } else if now > was {
        let more = now.minus(was)?;
        layer.quantity += more.get();
        movements.push(Movement::new(nothing, Account::layer(layer.id), more, Millionths::ZERO));
    }
    tx.save_layer(layer)?;
    Ok(())
}

/// A piece of which nothing is left.
pub(crate) fn used_up(shelved: &Shelved) -> Failure {
    crate::failure::wrong_state(
        format!("nothing is left of {}", shelved.code()),
        "see the shelf for what is there",
    )
}
