//! Trims that are nearly right, where none is: named in words, never promised.

use super::Question;
use crate::{
    desk::failure::Done,
    garments::need::{NeedRecord, same_colour, size_of},
    promises,
    shelf::shelved::{LotRecord, Shelved, amount},
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{NearLot, NeedChange},
};
use ellwand_domain::{
    code::{LotCode, MaterialCode},
    ledger::Quantity,
    setting::Kind,
    trim::TrimSize,
};
use ellwand_storage::Tx;
use std::collections::BTreeMap;

/// Lots to offer at most.
const MOST: usize = 5;

/// What a need wants of a trim, said or meant by the material or lot that it names.
struct Wanted {
    size: Option<TrimSize>,
    colour: Option<String>,
}

/// A lot with what is free of it.
struct Lot<'s> {
    record: &'s LotRecord,
    free: Quantity,
    longest: Quantity,
}

/// The lots nearest to what is asked, with enough of them: by size, then of the colour, then least left over.
pub(super) fn lots(tx: &mut Tx<'_>, asked: &Question<'_>, seen: &[Shelved]) -> Done<Vec<NearLot>> {
    let need = asked.need;
    let (Kind::Trim, Some(each)) = (need.row.kind, need.per_unit) else {
        return Ok(Vec::new());
    };
    let wanted = wanted(tx, need)?;
    let Some(size) = wanted.size else {
        return Ok(Vec::new());
    };
    let units = if need.plan.conditions.mixing {
        1
    } else {
        asked.open
    };
    let all = Quantity::new(each.get().saturating_mul(units))?;
    let mut ranked = Vec::new();
    for lot in of_lots(seen)? {
        let record = lot.record;
        let others = record
            .lot
            .owner_id
            .filter(|owner| asked.garment.customer_id != Some(*owner))
            .is_some();
        // A length comes from one piece; trims may be joined from several.
        let enough = if need.counted {
            lot.free >= all
        } else {
            lot.longest >= each && lot.free >= all
        };
        let Some(is) = size_of(&record.sheet).filter(|is| is.may_stand_in_for(size)) else {
            continue;
        };
        if others
            || !enough
            || record.is_counted() != need.counted
            || (is.is_longer_than(size) && !need.counted)
        {
            continue;
        }
        let colour = wanted.colour.as_deref();
        let of_colour = colour.is_none_or(|wanted| {
            record
                .sheet
                .colour
                .as_deref()
                .is_some_and(|is| same_colour(is, wanted))
        });
        let left = lot.free.less(all);
        let near = NearLot {
            lot: record.code(),
            name: record.material.name.clone(),
            size: Some(is.to_string()),
            colour: record.sheet.colour.clone(),
            free: amount(need.counted, lot.free),
            left: amount(need.counted, left),
            because: because(need, record, size, is, of_colour),
            need: change(need, record),
        };
        // Within the tolerance sizes are the same.
        let off = if is.same_as(size) {
            0
        } else {
            is.off(size).get()
        };
        ranked.push(((off, !of_colour, left, record.lot.id), near));
    }
    ranked.sort_by_key(|(rank, _)| *rank);
    Ok(ranked
        .into_iter()
        .take(MOST)
        .map(|(_, near)| near)
        .collect())
}

fn wanted(tx: &mut Tx<'_>, need: &NeedRecord) -> Done<Wanted> {
    let mut wanted = Wanted {
        size: need.wanted_size(),
        colour: need.plan.colour().map(str::to_owned),
    };
    let mut meant = Vec::new();
    if let Some(lot) = need.plan.conditions.lot {
        meant.push(LotRecord::load(tx, lot.get())?.sheet);
    }
    if let Some(garment) = need.same_lot_as() {
        for lot in promises::lots_of_role(tx, garment.get(), &need.row.role)? {
            meant.push(LotRecord::load(tx, lot)?.sheet);
        }
    }
    if let Some(code) = need.plan.conditions.material
        && let Some(material) = tx.material(code.get())?
    {
        meant.push(crate::shelf::shelved::read_sheet(&material.sheet)?);
    }
    for sheet in meant {
        wanted.size = wanted.size.or_else(|| size_of(&sheet));
        wanted.colour = wanted.colour.or(sheet.colour);
    }
    Ok(wanted)
}

fn of_lots(seen: &[Shelved]) -> Done<Vec<Lot<'_>>> {
    let mut lots: BTreeMap<i64, Lot<'_>> = BTreeMap::new();
    for shelved in seen {
        let internal = |error| {
            Problem::new(
                ProblemType::Internal,
                format!("{}: {error}", shelved.code()),
            )
        };
        let (free, longest) = (
            shelved.stored.piece.free().map_err(internal)?,
            shelved.stored.piece.longest_free().map_err(internal)?,
        );
        let lot = lots.entry(shelved.stored.lot_id).or_insert_with(|| Lot {
            record: &shelved.record,
            free: Quantity::ZERO,
            longest: Quantity::ZERO,
        });
        lot.free = lot.free.plus(free)?;
        lot.longest = lot.longest.max(longest);
    }
    Ok(lots.into_values().collect())
}

/// How the lot differs, in words.
fn because(
    need: &NeedRecord,
    record: &LotRecord,
    wanted: TrimSize,
    is: TrimSize,
    of_colour: bool,
) -> String {
    let mut differences = Vec::new();
    if is.is_longer_than(wanted) {
        differences.push(format!("longer: {is} for {wanted}, it can be shortened"));
    } else if is.same_as(wanted) {
        differences.push("the same size".to_owned());
    } else {
        differences.push(format!("{is} for {wanted}"));
    }
    if !of_colour {
        differences.push(match &record.sheet.colour {
            Some(colour) => colour.clone(),
            None => "its colour is unknown".to_owned(),
        });
    }
    let code = MaterialCode::new(record.material.id);
    let wanted = need.plan.conditions.material;
    if wanted.is_some_and(|material| material != code) {
        differences.push("another material".to_owned());
    }
    if need.own_lot() {
        differences.push("another lot".to_owned());
    }
    differences.join(", ")
}

/// What would differ of the need that takes the lot.
fn change(need: &NeedRecord, record: &LotRecord) -> NeedChange {
    let (sheet, asked) = (&record.sheet, &need.plan.conditions);
    let mut change = NeedChange::of(&need.row.role);
    let as_wanted = |is: TrimSize| need.wanted_size().is_some_and(|wanted| is.same_as(wanted));
    if size_of(sheet).is_some_and(|is| !as_wanted(is)) {
        change = change.with("size", sheet.size.clone());
    }
    if let Some(wanted) = need.plan.colour() {
        // Of a lot of unknown colour none can be asked for.
        let is = sheet.colour.as_deref();
        if is.is_none_or(|is| !same_colour(is, wanted)) {
            change = change.with("colour", is);
        }
    }
    let material = MaterialCode::new(record.material.id);
    if asked.material.is_some_and(|wanted| wanted != material) {
        change = change.with("material", material.to_string());
    }
    if asked.lot.is_some() {
        change = change.with("lot", ());
    }
    if need.same_lot_as().is_some() {
        change = change.with("same_lot_as", ());
    }
    change
}

/// That the lots a need is bound to are used up.
pub(super) fn used_up(tx: &mut Tx<'_>, need: &NeedRecord) -> Done<Vec<String>> {
    let Some(garment) = need.same_lot_as() else {
        return Ok(Vec::new());
    };
    let mut notes = Vec::new();
    for lot in promises::lots_of_role(tx, garment.get(), &need.row.role)? {
        if tx
            .pieces_of_lot(lot)?
            .iter()
            .all(|stored| stored.piece.quantity.is_zero())
        {
            let lot = LotCode::new(lot);
            notes.push(format!(
                "{lot}, the lot of {garment} for its {}, is used up: nothing is left of it",
                need.row.role
            ));
        }
    }
    Ok(notes)
}
