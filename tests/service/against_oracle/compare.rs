//! Every balance of the program beside the oracle's.

use std::collections::BTreeMap;
use std::fmt::Display;

use ellwand_contract::{
    Micro,
    bookings::ListBookings,
    costs::{CostGroup, GetCost},
    lots::{GetLot, Lot},
    purchases::GetPurchase,
};
use num_traits::{Signed, Zero};
use serde_json::json;

use super::real::Real;
use super::requests::lot_of;
use crate::oracle::fraction::{Fraction, whole};
use crate::oracle::stock::Stage;
use crate::oracle::{Act, Gone, History, Kind, LotId, Place};

/// A difference, with what each side says.
pub fn compare(real: &Real, history: &History) -> Result<(), String> {
    let lots = lots(real, history);
    pieces(real, history, &lots)?;
    layers(history, &lots)?;
    purchases(real, history, &lots)?;
    garments(real, history)?;
    accounts(real, history)
}

fn same(what: impl Display, seen: i64, right: i128) -> Result<(), String> {
    worth(what, seen, right, 0)
}

fn worth(what: impl Display, seen: i64, right: i128, slack: i128) -> Result<(), String> {
    if (i128::from(seen) - right).abs() <= slack {
        return Ok(());
    }
    Err(format!("{what}: the book has {seen}, the oracle {right}"))
}

/// A late charge follows what is still here. The text does not say whether that is weighed by its quantity or by its
/// value, which was rounded when it was booked: so a millionth or two may lie elsewhere for each charge, and the cuts
/// after it carry that on. Without late charges every value is the same to the millionth; sums always are.
fn slack(history: &History) -> i128 {
    let count = |what: &dyn Fn(&Act) -> bool| history.acts.iter().filter(|act| what(act)).count();
    let charges = count(&|act| matches!(act, Act::Charge { .. }));
    let cuts = count(&|act| matches!(act, Act::Cut { .. } | Act::Leave { .. }));
    if charges == 0 {
        0
    } else {
        i128::try_from(2 * charges + cuts).unwrap()
    }
}

/// The lots of purchases that stand.
fn lots(real: &Real, history: &History) -> BTreeMap<LotId, Lot> {
    let bought = real
        .pieces
        .iter()
        .filter(|(piece, _)| real.purchases.contains_key(&piece.0));
    bought
        .filter(|(piece, _)| history.stock.landed.contains_key(&piece.0))
        .map(|(piece, code)| {
            let lot = real
                .book
                .ask::<GetLot>(json!({"lot": lot_of(code)}))
                .unwrap();
            (LotId(piece.0, piece.1), lot)
        })
        .collect()
}

fn pieces(real: &Real, history: &History, lots: &BTreeMap<LotId, Lot>) -> Result<(), String> {
    for (id, piece) in &history.stock.pieces {
        let code = real
            .pieces
            .get(id)
            .ok_or_else(|| format!("{id:?} made no piece"))?;
        let found = lots[&piece.lot]
            .pieces
            .iter()
            .find(|found| found.piece.to_string() == *code);
        let found = found.ok_or_else(|| format!("{code} is missing"))?;
        same(
            format!("{code} on hand"),
            found.on_hand.get(),
            piece.quantity,
        )?;
        same(
            format!("{code} reserved"),
            found.reserved.get(),
            piece.promised(),
        )?;
        if piece.kind == Kind::Cloth {
            let value = history
                .stock
                .places
                .get(&Place::Piece(*id))
                .map_or(0, |balance| balance.value);
            worth(
                format!("{code} value"),
                found.value.map_or(0, Micro::get),
                value,
                slack(history),
            )?;
        }
    }
    Ok(())
}

fn layers(history: &History, lots: &BTreeMap<LotId, Lot>) -> Result<(), String> {
    for (id, lot) in lots {
        let Some(stock) = &lot.stock else { continue };
        let material = history
            .stock
            .pieces
            .values()
            .find(|piece| piece.lot == *id)
            .map(|piece| piece.material);
        let place = if stock.pooled {
            Place::Pool(material.unwrap_or_default())
        } else {
            Place::Layer(*id)
        };
        let balance = history
            .stock
            .places
            .get(&place)
            .cloned()
            .unwrap_or_default();
        same(
            format!("layer of {} quantity", lot.lot),
            stock.quantity.get(),
            balance.quantity,
        )?;
        let value = stock.value.map_or(0, Micro::get);
        worth(
            format!("layer of {} value", lot.lot),
            value,
            balance.value,
            slack(history),
        )?;
    }
    Ok(())
}

fn purchases(real: &Real, history: &History, lots: &BTreeMap<LotId, Lot>) -> Result<(), String> {
    for (act, right) in &history.stock.landed {
        let code = &real.purchases[act];
        let purchase = real
            .book
            .ask::<GetPurchase>(json!({"purchase": code}))
            .unwrap();
        same(format!("{code} landed"), purchase.home_total.get(), *right)?;
        let lines: i64 = purchase.lines.iter().map(|line| line.landed.get()).sum();
        same(format!("{code} lines"), lines, *right)?;
        let report = lots
            .iter()
            .filter(|(lot, _)| lot.0 == *act)
            .map(|(_, lot)| lot.landed.map_or(0, Micro::get));
        same(format!("{code} lots"), report.sum(), *right)?;
    }
    Ok(())
}

fn garments(real: &Real, history: &History) -> Result<(), String> {
    for act in history.stock.garments.keys() {
        let code = &real.garments[act];
        let sheet = real.book.ask::<GetCost>(json!({"garment": code})).unwrap();
        let hours = history.hours(*act);
        let sum = |group| -> i64 {
            sheet
                .lines
                .iter()
                .filter(|line| line.group == group)
                .map(|line| line.cost.actual.map_or(0, Micro::get))
                .sum()
        };
        let pay: Fraction = hours.pay.values().sum();
        near(
            format!("{code} labour"),
            sum(CostGroup::Labour),
            &pay,
            history,
        )?;
        near(
            format!("{code} overhead"),
            sum(CostGroup::Overhead),
            &hours.overhead,
            history,
        )?;
    }
    Ok(())
}

/// Each entry of work may be rounded to the millionth.
fn near(what: String, seen: i64, right: &Fraction, history: &History) -> Result<(), String> {
    let apart = whole(i128::from(seen)) - right * whole(1_000_000);
    let entries = i128::try_from(history.acts.len()).unwrap();
    if apart.is_zero() || apart.abs() * whole(2) <= whole(entries) {
        return Ok(());
    }
    Err(format!(
        "{what}: the book has {seen}, the oracle {}",
        right * whole(1_000_000)
    ))
}

/// What every movement put on an account, less what it took.
fn accounts(real: &Real, history: &History) -> Result<(), String> {
    let mut net: BTreeMap<String, i64> = BTreeMap::new();
    for booking in real
        .book
        .ask::<ListBookings>(json!({"limit": 500}))
        .unwrap()
        .bookings
    {
        for movement in booking.movements {
            let value = movement.value.map_or(0, Micro::get);
            *net.entry(movement.from).or_default() -= value;
            *net.entry(movement.to).or_default() += value;
        }
    }
    let on = |name: &str| net.get(name).copied().unwrap_or_default();
    let all = |name: &str| -> i64 {
        net.iter()
            .filter(|(account, _)| account.starts_with(name))
            .map(|(_, value)| value)
            .sum()
    };
    let (stock, slack) = (&history.stock, slack(history));
    let garments = stock.garments.iter().try_for_each(|(act, made)| {
        let code = &real.garments[act];
        let delivered = on(&format!("delivered ({code})"));
        match made.stage {
            // Wages and overhead join the material once it is finished.
            Stage::Finished | Stage::Delivered
                if history.hours(*act).pay.values().any(|pay| !pay.is_zero()) =>
            {
                Ok(())
            }
            _ => worth(
                format!("{code} in the ledger"),
                on(code) + delivered,
                made.material(),
                slack,
            ),
        }
    });
    // The book tells what was cut wrongly and what was spoiled apart.
    let mistakes = all("loss: own mistake") + all("loss: spoiled garments");
    garments
        .and_then(|()| worth("own mistakes", mistakes, stock.mistakes, slack))
        .and_then(|()| {
            worth(
                "cancelled garments",
                all("loss: cancelled garment"),
                stock.cancelled,
                slack,
            )
        })
        .and_then(|()| {
            let places = [
                (Gone::Given, "given away"),
                (Gone::OwnUse, "own use"),
                (Gone::Sold, "sold"),
                (Gone::Discarded, "loss: discarded"),
            ];
            places.into_iter().try_for_each(|(to, name)| {
                let right = stock.gone.get(&to).copied().unwrap_or_default();
                worth(name, on(name), right, slack)
            })
        })
        .and_then(|()| worth("adjustments", all("adjustment"), stock.adjustments, slack))
        .map_err(|difference| format!("{difference} of {net:?}"))
}
