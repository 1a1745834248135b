//! A lot as it is shown.

use super::went;
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        perform::Perform,
        version,
    },
    shelf::{
        pooled,
        shelved::{LotRecord, Measure, Shelved},
        stiffness, worth,
    },
};
use ellwand_contract::{
    Metres, Micro, Problem, ProblemType,
    lots::{GetLot, Lot, ValueShare},
    wash::WashTestRecord,
};
use ellwand_domain::{
    allocation::round_to_total,
    code::{CustomerCode, GarmentCode, MaterialCode, PurchaseCode},
    ledger::{Account, AccountKind, Quantity},
    quantity::{Currency, Micrometres, Millionths, Money},
    shrinkage::{Direction, Marks, WashTest},
};
use ellwand_storage::{StoredPiece, Subject};

impl Perform for GetLot {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Lot, Failure> {
        view(desk, self.lot.get())
    }
}

/// A lot with its pieces, its tests and where its value went.
pub(crate) fn view(desk: &mut Desk<'_>, id: i64) -> Done<Lot> {
    let record = LotRecord::load(desk, id)?;
    let stored = desk.tx.pieces_of_lot(id)?;
    let value_went = value_went(desk, &record, &stored)?;
    let mut pieces = Vec::with_capacity(stored.len());
    for stored in stored {
        pieces.push(
            Shelved {
                stored,
                record: record.clone(),
            }
            .view(desk.context.today)?,
        );
    }
    let mut wash_tests = Vec::new();
    for row in desk.tx.wash_tests(id)? {
        wash_tests.push(wash_test(row)?);
    }
    let purchase = desk.tx.purchase(record.lot.purchase_id)?;
    let taken_back = purchase.as_ref().is_some_and(|row| row.undone_by.is_some());
    let supplier = match purchase.and_then(|purchase| purchase.supplier_id) {
        Some(supplier) => desk.tx.supplier(supplier)?.map(|supplier| supplier.name),
        None => None,
    };
    let turning = stiffness::turning_of_lot(stiffness::Known::of(&record.sheet));
    let stock = match record.kind().is_rectangle() || record.lot.owner_id.is_some() {
        true => None,
        false => Some(pooled::stock(
            desk,
            record.material.id,
            record.is_counted(),
            Some(id),
        )?),
    };
    let replacement = worth::replacement(&record.lot)?.map(|of| {
        let per = Quantity::new(of.per).unwrap_or_default();
        let per = Measure::of(record.kind(), record.is_counted()).show(desk.context, per);
        format!("{} for {per}", desk.context.printed(of.value))
    });
    let (code, kind) = (record.code(), record.kind());
    let LotRecord {
        lot,
        material,
        sheet,
    } = record;
    let landed = Millionths::new(lot.landed)?;
    Ok(Lot {
        lot: code,
        material: MaterialCode::new(material.id),
        kind,
        name: material.name,
        purchase: PurchaseCode::new(lot.purchase_id),
        taken_back,
        received: lot.received,
        supplier,
        owner: lot.owner_id.map(CustomerCode::new),
        dye_lot: lot.dye_lot,
        paid: lot.paid,
        sheet,
        pieces,
        wash_tests,
        turning,
        value_went,
        stock,
        unpriced: lot.unpriced,
        value_estimated: lot.value_estimated,
        replacement: replacement.filter(|_| lot.unpriced),
        landed: Some(Micro(landed)),
        landed_printed: Some(desk.context.printed(landed)),
        version: version::of(desk, Subject::Lot, id)?,
    })
}

/// Shares of the lot's landed cost, printed so that they add up to it: garments, losses, what else there is, and
/// the shelf last.
fn value_went(
    desk: &mut Desk<'_>,
    record: &LotRecord,
    pieces: &[StoredPiece],
) -> Done<Vec<ValueShare>> {
    if !record.kind().is_rectangle() || record.lot.owner_id.is_some() {
        return Ok(Vec::new());
    }
    let own: Vec<Account> = pieces
        .iter()
        .map(|stored| Account::piece(stored.piece.id))
        .collect();
    let mut shares: Vec<(String, Millionths)> = Vec::new();
    for (account, went) in went::flows(desk, &record.lot, &own)? {
        let lost = went::spoiled(desk, account, went)?;
        let spoiled = Account::new(AccountKind::Spoiled, account.id);
        for (account, value) in [(account, went.saturating_sub(lost)), (spoiled, lost)] {
            let (place, value) = (place(account), Millionths::new(value)?);
            match shares.iter_mut().find(|(known, _)| *known == place) {
                Some((_, sum)) => *sum = sum.plus(value)?,
                None => shares.push((place, value)),
            }
        }
    }
    shares.retain(|(_, value)| !value.is_zero());
    let shelf = Millionths::sum(pieces.iter().map(|stored| stored.piece.value))?;
    if !shelf.is_zero() || shares.is_empty() {
        shares.push(("on the shelf".to_owned(), shelf));
    }
    let values: Vec<Millionths> = shares.iter().map(|(_, value)| *value).collect();
    let (printed, _) = round_to_total(&values, desk.context.currency.digits())
        .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
    let share = |((place, value), minor): ((String, Millionths), i64)| ValueShare {
        place,
        value: Micro(value),
        printed: minor_text(minor, desk.context.currency),
    };
    Ok(shares.into_iter().zip(printed).map(share).collect())
}

fn minor_text(minor: i64, currency: Currency) -> String {
    Money { minor, currency }.decimal()
}

/// A garment by its code; other places by their kind.
fn place(account: Account) -> String {
    match account.kind {
        AccountKind::Garment => GarmentCode::new(account.id).to_string(),
        kind => kind.text().to_owned(),
    }
}

fn wash_test(row: ellwand_storage::WashTest) -> Done<WashTestRecord> {
    let ellwand_storage::WashTest {
        id: _,
        lot_id: _,
        number,
        booking_id: _,
        on_date,
        test,
        note,
    } = row;
    let test: WashTest = serde_json::from_str(&test).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("a stored wash test cannot be read: {error}"),
        )
    })?;
    let metres = |marks: &[Micrometres]| marks.iter().copied().map(Metres).collect::<Vec<_>>();
    let after = |direction| -> Vec<Vec<Metres>> {
        let along = |marks: &Marks| metres(marks.along(direction));
        let tested = !test.before().along(direction).is_empty();
        if tested {
            test.cycles().iter().map(along).collect()
        } else {
            Vec::new()
        }
    };
    let changes = |direction| -> Vec<String> {
        let step = test.washes_a_reading();
        let cycles = (1..=u8::MAX).take(test.cycles().len());
        let change = |cycle: u8| {
            test.ratio(direction, cycle.saturating_mul(step))
                .map(|(ratio, _)| ratio.change_text())
        };
        cycles.filter_map(change).collect()
    };
    let shrinkage = |direction| {
        test.ratio(direction, u8::MAX)
            .map(|(ratio, _)| ratio.shrinkage_ppm().to_string())
    };
    let (length, width) = (Direction::Lengthwise, Direction::Crosswise);
    Ok(WashTestRecord {
        number,
        date: on_date,
        preparation: test.preparation(),
        length_before_m: metres(test.before().along(length)),
        length_after_m: after(length),
        width_before_m: metres(test.before().along(width)),
        width_after_m: after(width),
        length_change: changes(length),
        width_change: changes(width),
        length_shrinkage: shrinkage(length).unwrap_or_else(|| "unknown".to_owned()),
        width_shrinkage: shrinkage(width),
        note,
    })
}
