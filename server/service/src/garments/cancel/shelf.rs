//! Cut material of a cancelled garment that goes back to the shelf.

use super::super::Balance;
use crate::{
    desk::{
        Desk,
        failure::{Done, invalid},
    },
    shelf::{
        lots::went::{self, Added},
        pooled, pools,
        shelved::{NewPiece, Shelved, parse_quantity},
    },
};
use chrono::NaiveDate;
use ellwand_contract::garments::ReturnedLength;
use ellwand_domain::{
    allocation::split_value,
    cloth::NO_HEAVIER,
    code::BookingCode,
    layer::{PoolShare, Taken},
    ledger::{Account, AccountKind, Movement, Quantity, Rectangle},
    quantity::{Micrometres, Millionths, Units},
    setting::Facet,
};
use ellwand_storage::{CutEntry, Garment, Tx};

/// What went back.
pub(super) struct Back {
    pub(super) movements: Vec<Movement>,
    pub(super) lots: Vec<i64>,
    /// For the history.
    pub(super) text: String,
    /// Value that stays on the garment.
    pub(super) rest: Millionths,
    /// What goes back of lots that melted into a pool.
    pub(super) shares: Vec<PoolShare>,
    /// What late charges and credits added, by cut and by the lot that bore them.
    charged: Vec<Added>,
}

impl Back {
    /// What a cut put on the garment, with what late charges and credits added since: those of one lot, or all of them; never
    /// more than is left there.
    fn charged_too(&self, value: Millionths, booking: i64, lot: Option<i64>) -> Done<Millionths> {
        let own = self
            .charged
            .iter()
            .filter(|added| added.cut == booking && lot.is_none_or(|lot| lot == added.lot));
        let added = own.fold(0_i64, |sum, added| sum.saturating_add(added.value));
        let whole = value
            .get()
            .saturating_add(added)
            .clamp(0, self.rest.get().max(0));
        Ok(Millionths::new(whole)?)
    }
}

/// One cut of which something goes back.
struct Returned<'a> {
    cut: &'a CutEntry,
    shelved: Shelved,
    /// Place in the request, quantity and width.
    lengths: Vec<(usize, Quantity, Option<Micrometres>)>,
}

impl Returned<'_> {
    fn quantity(&self) -> Done<Quantity> {
        let all = self.lengths.iter().map(|(_, quantity, _)| *quantity);
        Ok(Quantity::sum(all)?)
    }

    /// Refuses lengths that no cut of thread or trims can give back.
    fn check_trims(&self, quantity: Quantity) -> Done<()> {
        let cut = self.cut;
        let index = self.lengths.last().map_or(0, |(index, _, _)| *index);
        let field = |name: &str| format!("cut_material.shelf[{index}].{name}");
        if quantity.get() > cut.quantity.saturating_add(cut.wasted) {
            let code = BookingCode::new(cut.booking_id);
            let detail = format!("{code} took less than would go back");
            return Err(invalid(&field("amount"), detail)
                .naming("booking", code)
                .with("wanted", quantity.get())
                .with("most", cut.quantity.saturating_add(cut.wasted)));
        }
        if self.lengths.iter().any(|(_, _, width)| width.is_some()) {
            return Err(invalid(&field("width"), "thread and trims have no width"));
        }
        Ok(())
    }

    /// Areas that go back, and what of the cut stays; `widest`: how wide it was cut.
    fn areas(&self, widest: Micrometres, units: Units) -> Done<Vec<i128>> {
        let code = BookingCode::new(self.cut.booking_id);
        let area = |length: i64, width: Micrometres| {
            i128::from(length).saturating_mul(i128::from(width.get()))
        };
        let mut rest = area(self.cut.quantity, widest);
        let mut areas = Vec::with_capacity(self.lengths.len().saturating_add(1));
        for (index, quantity, width) in &self.lengths {
            let field = |name: &str| format!("cut_material.shelf[{index}].{name}");
            let width = width.unwrap_or(widest);
            if width.is_zero() || width > widest {
                let wide = widest.show_width(units);
                let detail = format!("{code} was cut {wide} wide; nothing wider can go back");
                return Err(invalid(&field("width"), detail)
                    .naming("booking", code)
                    .with("wanted_um", width.get())
                    .with("most_um", widest.get()));
            }
            let own = area(quantity.get(), width);
            if quantity.get() > self.cut.quantity || own > rest {
                let detail = format!("{code} cut less than would go back");
                return Err(invalid(&field("amount"), detail)
                    .naming("booking", code)
                    .with("wanted", quantity.get())
                    .with("most", self.cut.quantity));
            }
            rest = rest.saturating_sub(own);
            areas.push(own);
        }
        areas.push(rest);
        Ok(areas)
    }
}

/// Puts lengths back as new pieces of their lots, thread and trims into their pieces and layers.
pub(super) fn put_back(
    desk: &mut Desk<'_>,
    garment: &Garment,
    balance: &Balance,
    cuts: &[CutEntry],
    lengths: &[ReturnedLength],
    day: NaiveDate,
) -> Done<Back> {
    let mut back = Back {
        movements: Vec::new(),
        lots: Vec::new(),
        text: String::new(),
        rest: balance.value,
        shares: Vec::new(),
        charged: went::charged_on_cuts(desk, garment.id)?,
    };
    let mut texts = Vec::new();
    for group in by_cut(desk, cuts, lengths)? {
        let value = back.charged_too(
            rode(balance, group.cut.booking_id)?,
            group.cut.booking_id,
            None,
        )?;
        let code = group.shelved.record.code();
        let all = group.quantity()?;
        texts.push(format!(
            "{} of {code} {}",
            group.shelved.show(desk.context, all),
            group.shelved.record.material.name
        ));
        back.lots.push(group.cut.lot_id);
        match group.shelved.stored.piece.rectangle {
            Some(rectangle) => {
                let units = desk.context.units();
                let case = Cloth {
                    rectangle,
                    value,
                    day,
                    units,
                };
                cloth(desk, garment, group, case, &mut back)?;
            }
            None => trims(desk, garment, balance, group, day, &mut back)?,
        }
    }
    back.text = texts.join(", ");
    Ok(back)
}

/// The lengths that go back, by the cut that they are of.
fn by_cut<'a>(
    tx: &mut Tx<'_>,
    cuts: &'a [CutEntry],
    lengths: &[ReturnedLength],
) -> Done<Vec<Returned<'a>>> {
    if lengths.is_empty() {
        return Err(invalid(
            "cut_material",
            "which lengths go back? give the cut's booking and how much of it",
        ));
    }
    let mut groups: Vec<Returned<'_>> = Vec::new();
    for (index, length) in lengths.iter().enumerate() {
        let field = |name: &str| format!("cut_material.shelf[{index}].{name}");
        let Some(cut) = cuts
            .iter()
            .find(|cut| cut.booking_id == length.booking.get())
        else {
            let detail = format!(
                "{} is not a cut that this garment carries the cost of",
                length.booking
            );
            return Err(invalid(&field("booking"), detail).naming("booking", length.booking));
        };
        let known = groups.iter().position(|group| group.cut == cut);
        let at = match known {
            Some(at) => at,
            None => {
                let shelved = Shelved::load_row(tx, cut.piece_id)?;
                groups.push(Returned {
                    cut,
                    shelved,
                    lengths: Vec::new(),
                });
                groups.len().saturating_sub(1)
            }
        };
        let Some(group) = groups.get_mut(at) else {
            continue;
        };
        let quantity = parse_quantity(group.shelved.counted(), &field("amount"), &length.amount)?;
        let width = length.width.as_ref().map(|width| width.value());
        group.lengths.push((index, quantity, width));
    }
    Ok(groups)
}

/// Value that a cut put on the garment.
fn rode(balance: &Balance, booking: i64) -> Done<Millionths> {
    let to_garment = |kind: AccountKind| kind == AccountKind::Garment;
    let movements = balance.movements.iter().map(|(stored, _)| stored);
    let own =
        movements.filter(|stored| stored.booking == booking && to_garment(stored.movement.to.kind));
    Ok(Millionths::sum(own.map(|stored| stored.movement.value))?)
}

/// What a cut of cloth was.
struct Cloth {
    rectangle: Rectangle,
    value: Millionths,
    day: NaiveDate,
    units: Units,
}

/// New pieces, each with its share of the cut's cost by area.
fn cloth(
    tx: &mut Tx<'_>,
    garment: &Garment,
    group: Returned<'_>,
    case: Cloth,
    back: &mut Back,
) -> Done<()> {
    let Cloth {
        rectangle,
        value,
        day,
        units,
    } = case;
    let widest = match group.cut.panel_width_um {
        Some(width) => Micrometres::new(width)?,
        None => rectangle.full,
    };
    let values = split_value(value, &group.areas(widest, units)?)
        .map_err(|error| invalid("cut_material", error.to_string()))?;
    // A preparation after the cut was not done to what was cut.
    let stored = &group.shelved.stored;
    let piece = stored.piece.id;
    let as_now = tx
        .traced_since(Facet::Preparation, piece, "", group.cut.booking_id)?
        .is_empty();
    let (preparation, prepared, mass_factor_ppm) = match as_now {
        true => (stored.preparation, stored.prepared, stored.mass_factor_ppm),
        false => (None, None, NO_HEAVIER),
    };
    for ((_, quantity, width), value) in group.lengths.iter().zip(values) {
        let full = width.unwrap_or(widest);
        let selvedges = if full == rectangle.full {
            rectangle.selvedges
        } else {
            Micrometres::ZERO
        };
        let new = NewPiece {
            lot: stored.lot_id,
            quantity: *quantity,
            rectangle: Some(Rectangle { full, selvedges }),
            value,
            flaws: Vec::new(),
            preparation,
            prepared,
            mass_factor_ppm,
            estimated: stored.estimated,
            offcut: true,
            place: stored.place.clone(),
            day,
        };
        let piece = new.number(tx)?;
        tx.insert_piece(&piece)?;
        let (from, to) = (Account::garment(garment.id), Account::piece(piece.piece.id));
        back.movements
            .push(Movement::new(from, to, *quantity, value));
        back.rest = back.rest.minus(value)?;
    }
    Ok(())
}

/// Back into the piece's quantity, and into the layers they came from, the last taken first.
fn trims(
    tx: &mut Tx<'_>,
    garment: &Garment,
    balance: &Balance,
    group: Returned<'_>,
    day: NaiveDate,
    back: &mut Back,
) -> Done<()> {
    let quantity = group.quantity()?;
    let booking = group.cut.booking_id;
    // Several cuts of one piece may go back: each finds what the one before left there.
    let mut shelved = Shelved::load_row(tx, group.cut.piece_id)?;
    group.check_trims(quantity)?;
    shelved.check_day(day)?;
    let from = Account::garment(garment.id);
    let mut left = quantity;
    let mut taken = Vec::new();
    let drawn = balance
        .movements
        .iter()
        .map(|(stored, _)| stored)
        .filter(|stored| stored.booking == booking);
    for stored in drawn.rev() {
        let movement = stored.movement;
        if movement.from.kind != AccountKind::Layer || left.is_zero() {
            continue;
        }
        let part = left.min(movement.quantity_in);
        let lot = tx.layer(movement.from.id)?.and_then(|layer| layer.lot_id);
        let whole = back.charged_too(movement.value, booking, lot)?;
        let value = match part == movement.quantity_in {
            true => whole,
            false => whole.share(part.get(), movement.quantity_in.get())?,
        };
        if lot.is_none() {
            back.shares.extend(pools::part_of(
                tx,
                booking,
                part.get(),
                movement.quantity_in.get(),
            )?);
        }
        left = left.less(part);
        taken.push(Taken {
            layer: movement.from.id,
            quantity: part.get(),
            value,
        });
        back.movements
            .push(Movement::new(from, movement.from, part, value));
        back.rest = back.rest.minus(value)?;
    }
    pooled::put_back(tx, shelved.record.material.id, &taken)?;
    let piece = &mut shelved.stored.piece;
    piece.quantity = piece.quantity.plus(quantity)?;
    back.movements.push(Movement::new(
        from,
        Account::piece(piece.id),
        quantity,
        Millionths::ZERO,
    ));
    shelved.save(tx, day)
}
