//! Measuring pieces again; the value stays.

use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        detail::{Detail, PieceBefore},
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace::{self, Traced},
    },
    promises,
    shelf::{day, doubts, lots::changed, pooled, shelved::Shelved},
};
use ellwand_contract::{
    Problem, ProblemType,
    lots::{MeasurePiece, PieceChanged},
    wash::FinishWash,
};
use ellwand_domain::{
    cloth,
    ledger::{Account, AccountKind, Movement, Quantity, Rectangle},
    quantity::{Count, Micrometres, Milligrams, Millionths, QuantityError},
    setting::{BookingKind, Kind, MeasuredAfter},
    shrinkage::Preparation,
};
use ellwand_storage::{StoredPiece, Subject};

/// How a piece is before it is measured.
pub(crate) fn before(stored: &StoredPiece) -> PieceBefore {
    PieceBefore {
        piece: stored.piece.id,
        quantity: stored.piece.quantity.get(),
        full_width: stored.piece.rectangle.map(|rectangle| rectangle.full.get()),
        mass_factor_ppm: stored.mass_factor_ppm,
        width_computed: false,
    }
}

/// The widths of a piece that is `full` wide now; `scale`: because the cloth itself changed, selvedges and all. Narrower than
/// its selvedges were is a slip of the ruler either way.
pub(crate) fn widths(
    context: &Context<'_>,
    shelved: &Shelved,
    full: Option<Micrometres>,
    scale: bool,
) -> Done<Option<Rectangle>> {
    match (shelved.stored.piece.rectangle, full) {
        (None, Some(_)) => Err(invalid("width", format!("{} has no width", shelved.code()))),
        (Some(rectangle), Some(full)) if full <= rectangle.selvedges => {
            let wide = full.show_width(context.units());
            let detail = format!(
                "a full width of {wide} leaves nothing between the selvedges of {}",
                shelved.code()
            );
            Err(invalid("width", detail)
                .with("wanted_um", full.get())
                .with("selvedges_um", rectangle.selvedges.get()))
        }
        (Some(rectangle), Some(full)) if scale => Ok(Some(
            rectangle
                .became(full)
                .map_err(|error| promises::internal(shelved, &error))?,
        )),
        (Some(rectangle), Some(full)) => Ok(Some(Rectangle { full, ..rectangle })),
        (rectangle, None) => Ok(rectangle),
    }
}

/// Sets what a piece measures, `rectangle` across, and books the difference against normal loss without value. More loss or
/// growth than is usual needs `really`. Where the cloth itself changed (`scale`) so did its mass per area.
pub(crate) fn correct(
    shelved: &mut Shelved,
    found: Quantity,
    rectangle: Option<Rectangle>,
    scale: bool,
    really: bool,
    movements: &mut Vec<Movement>,
) -> Done<()> {
    let was = shelved.stored.piece.quantity;
    let full = |rectangle: Option<Rectangle>| rectangle.map(|rectangle| rectangle.full);
    let width = full(rectangle).filter(|_| full(rectangle) != full(shelved.stored.piece.rectangle));
    doubts::ask_of_piece(shelved, found, width, None, really)?;
    if scale && let Some((before, after)) = shelved.stored.piece.rectangle.zip(rectangle) {
        let area = |length: Quantity, width: Rectangle| -> Done<_> {
            Ok((Micrometres::new(length.get())?, width.full))
        };
        shelved.stored.mass_factor_ppm = cloth::heavier(
            shelved.stored.mass_factor_ppm,
            area(was, before)?,
            area(found, after)?,
        );
    }
    let piece = &mut shelved.stored.piece;
    let done = if found.is_zero() {
        piece.use_up()
    } else {
        piece.remeasure(found, rectangle, scale)
    };
    done.map_err(|error| {
        Problem::new(
            ProblemType::InvalidValue,
            format!("{}: {error}", shelved.code()),
        )
    })?;
    let (piece, nothing) = (
        Account::piece(shelved.stored.piece.id),
        Account::new(AccountKind::NormalLoss, 0),
    );
    if found < was {
        movements.push(Movement::new(
            piece,
            nothing,
            was.minus(found)?,
            Millionths::ZERO,
        ));
    } else if found > was {
        movements.push(Movement::new(
            nothing,
            piece,
            found.minus(was)?,
            Millionths::ZERO,
        ));
    }
    Ok(())
}

impl Perform for MeasurePiece {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let shelved = Shelved::load(desk, self.piece)?;
        check_something(&shelved, &self.found, desk.context)?;
        let found = shelved.parse("found", &self.found)?;
        if self.after == MeasuredAfter::Washing && shelved.stored.piece.rectangle.is_some() {
            return self.as_washed()?.perform(desk);
        }
        let width = self.width.as_ref().map(|width| width.value());
        let scale = matches!(
            self.after,
            MeasuredAfter::Washing | MeasuredAfter::Pressing | MeasuredAfter::Resting
        );
        let how = format!("measured after {}", self.after);
        remeasure(
            desk,
            shelved,
            Found {
                found,
                width,
                scale,
                really: self.really,
                how,
                tare: None,
                estimated: false,
                rests: Vec::new(),
                notes: Vec::new(),
            },
            self.date,
        )
    }
}

/// Refuses to measure a piece to nothing: where it went is an act of its own.
fn check_something(shelved: &Shelved, found: &str, context: &Context<'_>) -> Done<()> {
    let nothing = found.parse::<Count>().is_ok_and(|count| count.get() == 0)
        || found
            .parse::<Micrometres>()
            .is_ok_and(|length| length.get() == 0);
    if !nothing || shelved.stored.piece.quantity.is_zero() {
        return Ok(());
    }
    let code = shelved.code();
    let has = shelved.show(context, shelved.stored.piece.quantity);
    let hint = match shelved.record.kind() {
        Kind::Thread => format!(
            "ellwand lot weigh {code} for an empty reel, or ellwand cut, give, sell or discard {code}"
        ),
        _ => format!("book where it went: ellwand cut, give, sell or discard {code}"),
    };
    let detail = format!("{code} has {has} in the book; a measure of 0 does not say where it went");
    Err(Problem::from(invalid("found", detail)).hint(hint).into())
}

trait Washed {
    fn as_washed(&self) -> Done<FinishWash>;
}

impl Washed for MeasurePiece {
    /// Cloth that is measured after washing was washed: the same act, one wash.
    fn as_washed(&self) -> Done<FinishWash> {
        Ok(FinishWash {
            id: self.id,
            piece: self.piece,
            preparation: Preparation::Washed { times: 1 },
            length: self
                .found
                .parse()
                .map_err(|error: QuantityError| invalid("found", error.to_string()))?,
            width: self.width.clone(),
            really: self.really,
            date: self.date,
        })
    }
}

/// What was found of a piece.
pub(super) struct Found {
    /// Nothing: an empty reel.
    pub(super) found: Quantity,
    pub(super) width: Option<Micrometres>,
    pub(super) scale: bool,
    pub(super) really: bool,
    pub(super) how: String,
    /// Of the empty reel or core, where it was said now.
    pub(super) tare: Option<Milligrams>,
    /// Worked out from a mass.
    pub(super) estimated: bool,
    /// What it was worked out from.
    pub(super) rests: Vec<Traced>,
    pub(super) notes: Vec<String>,
}

/// Books what a piece is now.
pub(super) fn remeasure(
    desk: &mut Desk<'_>,
    mut shelved: Shelved,
    mut found: Found,
    date: Option<chrono::NaiveDate>,
) -> Done<PieceChanged> {
    let day = desk.context.day(date)?;
    let less = shelved
        .stored
        .piece
        .quantity
        .get()
        .saturating_sub(found.found.get());
    day::check(
        desk,
        &shelved,
        day,
        ("taking off", Quantity::new(less.max(0))?),
    )?;
    if shelved.stored.piece.quantity.is_zero() {
        return Err(used_up(&shelved));
    }
    let booking = desk.next_booking()?;
    let was = shelved.show(desk.context, shelved.stored.piece.quantity);
    let as_it_was = shelved.stored.clone();
    let mut movements = Vec::new();
    let was_there = shelved.stored.piece.quantity;
    let lost = pooled::found(
        desk,
        booking,
        &shelved,
        was_there,
        found.found,
        &mut movements,
    )?;
    if !lost.is_zero() {
        let value = format!("{} {}", desk.context.printed(lost), desk.context.currency);
        found.notes.push(format!(
            "the rest of its cost, {value}, is written off as normal loss"
        ));
    }
    let widths = widths(desk.context, &shelved, found.width, found.scale)?;
    correct(
        &mut shelved,
        found.found,
        widths,
        found.scale,
        found.really,
        &mut movements,
    )?;
    let because = format!("{} was {}", shelved.code(), found.how);
    shelved.stored.tare = found.tare.or(shelved.stored.tare);
    shelved.stored.estimated = found.estimated;
    let settled = promises::resettle(desk, booking, &mut shelved, &because)?;
    shelved.save(desk, day)?;
    let now = match found.found.is_zero() {
        true => "used up".to_owned(),
        false => shelved.show(desk.context, shelved.stored.piece.quantity),
    };
    let summary = format!(
        "{} {} {}: {was} → {now}.",
        shelved.code(),
        shelved.record.material.name,
        found.how
    );
    let mut entry = Entry::new(BookingKind::Measured, day, summary);
    entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
    entry.movements = movements;
    entry.traces = trace::of_measured(&as_it_was, &shelved.stored)?;
    entry.traces.extend(found.rests);
    entry.detail = Detail::Remeasured {
        before: before(&as_it_was),
    };
    desk.book(booking, entry)?;
    changed(
        desk,
        booking,
        &shelved,
        Vec::new(),
        settled,
        std::mem::take(&mut found.notes),
    )
}

/// A piece of which nothing is left.
pub(crate) fn used_up(shelved: &Shelved) -> Failure {
    crate::desk::failure::wrong_state(
        format!("nothing is left of {}", shelved.code()),
        "see ellwand shelf",
    )
}
