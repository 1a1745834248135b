//! A swatch that is cut for a wash test, and the strip beside it.

use crate::{
    desk::{
        Desk,
        context::Context,
        detail::Segment,
        failure::{Done, invalid},
    },
    promises::{self, panel},
    shelf::shelved::{NewPiece, Shelved},
};
use chrono::NaiveDate;
use ellwand_contract::wash::SwatchInput;
use ellwand_domain::{
    code::LotCode,
    ledger::{
        Account, AccountKind, CutEffect, CutOrder, LedgerError, Movement, Panel, Piece, Quantity,
        Rectangle,
    },
    quantity::{Micrometres, Millionths, Units},
    setting::End,
};
use ellwand_storage::Tx;

/// What a swatch did.
pub(super) struct Cut {
    shelved: Shelved,
    pub(super) off: Segment,
    /// The strip beside it, where that is worth keeping.
    strip: Option<Shelved>,
    pub(super) movements: Vec<Movement>,
}

impl Cut {
    /// What it took, and what became of the cloth beside it.
    pub(super) fn notes(&self, context: &Context<'_>, swatch: &SwatchInput) -> Vec<String> {
        let units = context.units();
        let length = swatch.length.value().show(units);
        let took = format!(
            "the swatch took {length} off {}, its value stays",
            self.shelved.code()
        );
        let beside = self.strip.as_ref().and_then(|strip| {
            let full = strip.stored.piece.rectangle?.full.show_width(units);
            let code = strip.code();
            Some(match swatch.corner {
                false => {
                    format!("the strip beside it, {length} long and {full} wide, is kept as {code}")
                }
                true => format!(
                    "only the corner is gone, but a piece is a rectangle: the rest of the strip, {length} long and {full} wide, \
                     is {code} from now on, even while it hangs on {}",
                    self.shelved.code()
                ),
            })
        });
        std::iter::once(took).chain(beside).collect()
    }
}

/// Takes a swatch's length off its piece. Its value stays; the strip beside it is kept with its share of the value by the
/// workshop's rule, as beside a panel, else it is waste.
pub(super) fn cut(
    desk: &mut Desk<'_>,
    booking: i64,
    lot: LotCode,
    swatch: &SwatchInput,
    day: NaiveDate,
) -> Done<Cut> {
    let mut shelved = Shelved::load(desk, swatch.piece)?;
    let (length, width): (Quantity, _) = (swatch.length.value().into(), swatch.width.value());
    let rectangle = check(&shelved, lot, width, desk.context.units())?;
    shelved.check_day(day)?;
    promises::end_overdue(desk, booking, &mut shelved)?;
    if length >= shelved.stored.piece.quantity {
        let detail = format!("the swatch would take all of {}", swatch.piece);
        return Err(invalid("swatch.length", detail)
            .with("wanted", length.get())
            .with("on_hand", shelved.stored.piece.quantity.get()));
    }
    let value = shelved.stored.piece.value;
    let by_rule = panel::panel(desk.context, rectangle.usable(), length, width);
    let panel = Panel {
        keep_strip: by_rule.keep_strip || (swatch.corner && width < rectangle.usable()),
        ..by_rule
    };
    let effect = take_off_an_end(desk, &mut shelved, length, panel)?;
    let off = Segment {
        piece: shelved.stored.piece.id,
        quantity: length.get(),
        end: effect.came_off,
        flaws: effect.flaws,
        made: None,
    };
    let from = Account::piece(shelved.stored.piece.id);
    let mut movements = vec![Movement::new(
        from,
        Account::new(AccountKind::NormalLoss, 0),
        length,
        Millionths::ZERO,
    )];
    let mut kept = None;
    shelved.stored.piece.value = value;
    if let Some(strip) = effect.strip {
        let strip = keep(desk, &shelved, strip, day)?;
        let made = &strip.stored.piece;
        let beside = Movement::new(from, Account::piece(made.id), made.quantity, made.value);
        movements.push(Movement {
            quantity_out: Quantity::ZERO,
            ..beside
        });
        shelved.stored.piece.value = value.minus(made.value)?;
        kept = Some(strip);
    }
    shelved.save(desk, day)?;
    Ok(Cut {
        shelved,
        off,
        strip: kept,
        movements,
    })
}

/// Refuses a piece of another lot, or one that is not as wide; returns its widths.
fn check(shelved: &Shelved, lot: LotCode, width: Micrometres, units: Units) -> Done<Rectangle> {
    let piece = shelved.code();
    if shelved.record.lot.id != lot.get() {
        let detail = format!("{piece} is not a piece of {lot}");
        return Err(invalid("swatch.piece", detail));
    }
    let Some(rectangle) = shelved.stored.piece.rectangle else {
        return Err(invalid("swatch.piece", format!("{piece} has no width")));
    };
    let usable = rectangle.usable();
    if width > usable {
        let (wanted_um, usable_um) = (width.get(), usable.get());
        let (usable, wide) = usable.show_width_beside(width, units);
        let detail = format!("the swatch is {wide} wide; {piece} has {usable} usable");
        return Err(invalid("swatch.width", detail)
            .with("wanted_um", wanted_um)
            .with("usable_um", usable_um));
    }
    Ok(rectangle)
}

/// Puts the strip on the shelf as an offcut of the piece.
fn keep(tx: &mut Tx<'_>, from: &Shelved, strip: Piece, day: NaiveDate) -> Done<Shelved> {
    let own = &from.stored;
    let new = NewPiece {
        lot: own.lot_id,
        quantity: strip.quantity,
        rectangle: strip.rectangle,
        value: strip.value,
        flaws: strip.flaws,
        preparation: own.preparation,
        prepared: own.prepared,
        mass_factor_ppm: own.mass_factor_ppm,
        estimated: own.estimated,
        offcut: true,
        place: own.place.clone(),
        day,
    };
    let stored = new.number(tx)?;
    tx.insert_piece(&stored)?;
    Ok(Shelved {
        stored,
        record: from.record.clone(),
    })
}

/// Cuts a swatch off the outer end, or off the inner one where promises or a flaw are in the way.
fn take_off_an_end(
    desk: &mut Desk<'_>,
    shelved: &mut Shelved,
    length: Quantity,
    panel: Panel,
) -> Done<CutEffect> {
    let off = |end: End| {
        move |piece: &mut Piece| {
            let effect = piece.cut(&CutOrder {
                end,
                panel: Some(panel),
                ..CutOrder::free(length)
            })?;
            match effect.outer {
                None => Ok(effect),
                // It would come out of the middle.
                Some(_) => Err(LedgerError::CrossesFlaw {
                    wanted: length,
                    longest_free: piece.longest_free().unwrap_or_default(),
                }),
            }
        }
    };
    for end in [End::Outer, End::Inner] {
        let mut piece = shelved.stored.piece.clone();
        if let Ok(effect) = off(end)(&mut piece) {
            shelved.stored.piece = piece;
            return Ok(effect);
        }
    }
    let outer = promises::with_room(desk, shelved, None, off(End::Outer))?;
    let error = match outer {
        Ok(effect) => return Ok(effect),
        Err(error) => error,
    };
    if let Ok(effect) = promises::with_room(desk, shelved, None, off(End::Inner))? {
        return Ok(effect);
    }
    Err(promises::refusal(desk, shelved, "the swatch", &error)?.into())
}
