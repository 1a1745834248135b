//! Proving the book from its ledger: rules 1 to 4, a batch of records at a time.

mod lays;
mod months;
mod replay;

use crate::desk::{
    Desk,
    failure::{Done, Failure},
    perform::Perform,
};
use ellwand_contract::audit::{Audit, Finding, RunAudit};
use ellwand_domain::code::{GarmentCode, LotCode, PieceCode, PurchaseCode, ReservationCode};
use ellwand_storage::{Balance, Tx};
use std::collections::HashMap;

/// Records compared at once: memory stays the same however large the book is.
const BATCH: i64 = 500;

impl Perform for RunAudit {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Audit, Failure> {
        let (bookings, movements) = desk.tx.audit_counts()?;
        let mut audit = Audit {
            bookings,
            movements,
            pieces: 0,
            layers: 0,
            purchases: 0,
            stretches: 0,
            findings: Vec::new(),
        };
        let shelf = pieces(desk, &mut audit)? + layers(desk, &mut audit)?;
        replay::replay(desk, &mut audit)?;
        let received = purchases(desk, &mut audit)?;
        garments(desk, &mut audit)?;
        whole(desk, &mut audit, received, shelf)?;
        for (kind, sequence) in desk.tx.audit_orphans()? {
            audit.findings.push(Finding {
                rule: 1,
                record: format!("movement {sequence}"),
                detail: format!("it names a {kind} that does not exist"),
            });
        }
        months::totals(desk, &mut audit)?;
        replay::shares(desk, &mut audit)?;
        replay::counters(desk, &mut audit)?;
        lays::checked(desk, &mut audit)?;
        for promise in desk.tx.audit_lines()? {
            audit.findings.push(Finding {
                rule: 3,
                record: ReservationCode::new(promise).to_string(),
                detail: "a cut or promise that belongs to it is for another need".to_owned(),
            });
        }
        Ok(audit)
    }
}

fn code(balance: &Balance) -> String {
    PieceCode {
        lot: LotCode::new(balance.lot),
        number: balance.number,
    }
    .to_string()
}

/// Rule 1 for pieces, rule 3 for their stretches, and the sums kept beside them. Answers the value kept.
fn pieces(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<i64> {
    let (mut after, mut total) = (0, 0_i64);
    loop {
        let batch = tx.audit_pieces(after, BATCH)?;
        let (Some(first), Some(last)) = (batch.first(), batch.last()) else {
            return Ok(total);
        };
        let (first, last) = (first.id, last.id);
        let mut promised: HashMap<(i64, i64), i64> = HashMap::new();
        for (piece, stretch, held) in tx.audit_promises(first, last)? {
            *promised.entry((piece, stretch)).or_default() += held;
        }
        let stretches = tx.audit_stretches(first, last)?;
        for balance in &batch {
            compare(audit, &code(balance), balance);
            total = total.saturating_add(balance.kept.1);
            let own = stretches.iter().filter(|stretch| stretch.0 == balance.id);
            self::stretches(audit, balance, own, &mut promised);
        }
        for ((piece, stretch), held) in promised {
            let record = batch
                .iter()
                .find(|balance| balance.id == piece)
                .map_or(String::new(), code);
            let detail = format!(
                "{held} is promised in stretch {}, which does not exist",
                stretch + 1
            );
            promises(audit, record, detail);
        }
        audit.pieces += i64::try_from(batch.len()).unwrap_or(0);
        after = last;
    }
}

/// A finding about promises, which are rule 3.
fn promises(audit: &mut Audit, record: String, detail: String) {
    audit.findings.push(Finding {
        rule: 3,
        record,
        detail,
    });
}

/// Rule 3 for the stretches of a piece: `(piece, position, length, held)`; their promises are taken out of `promised`.
fn stretches<'a>(
    audit: &mut Audit,
    balance: &Balance,
    own: impl Iterator<Item = &'a (i64, i64, i64, i64)>,
    promised: &mut HashMap<(i64, i64), i64>,
) {
    let (mut held, mut reach) = (0, 0_i64);
    for (_, position, length, kept) in own {
        audit.stretches += 1;
        let sum = promised.remove(&(balance.id, *position)).unwrap_or(0);
        held += sum;
        reach += length;
        let record = format!("{} stretch {}", code(balance), position + 1);
        if sum != *kept {
            let detail = format!("the promises add up to {sum}, the stretch says {kept}");
            promises(audit, record.clone(), detail);
        }
        if sum > *length {
            let detail = format!("{sum} is promised of a length of {length}");
            promises(audit, record, detail);
        }
    }
    if held != balance.held {
        let kept = balance.held;
        let detail = format!("the promises add up to {held}, the piece says {kept}");
        promises(audit, code(balance), detail);
    }
    if reach > balance.kept.0 {
        let detail = format!("its stretches add up to {reach}, it has {}", balance.kept.0);
        promises(audit, code(balance), detail);
    }
}

/// Rule 1: the ledger's sum is the balance, and neither is negative.
fn compare(audit: &mut Audit, record: &str, balance: &Balance) {
    for (what, kept, ledger) in [
        ("quantity", balance.kept.0, balance.ledger.0),
        ("value", balance.kept.1, balance.ledger.1),
    ] {
        if kept != ledger {
            let detail = format!("the ledger gives a {what} of {ledger}, the book says {kept}");
            audit.findings.push(Finding {
                rule: 1,
                record: record.to_owned(),
                detail,
            });
        }
        if ledger < 0 {
            let detail = format!("the ledger gives a {what} of {ledger}, below zero");
            audit.findings.push(Finding {
                rule: 1,
                record: record.to_owned(),
                detail,
            });
        }
    }
    if balance.kept.0 == 0 && balance.kept.1 != 0 {
        let detail = format!("nothing is left of it, yet it is worth {}", balance.kept.1);
        audit.findings.push(Finding {
            rule: 1,
            record: record.to_owned(),
            detail,
        });
    }
}

/// Rule 1 for cost layers. Answers the value kept.
fn layers(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<i64> {
    let (mut after, mut total) = (0, 0_i64);
    loop {
        let batch = tx.audit_layers(after, BATCH)?;
        let Some(last) = batch.last() else {
            return Ok(total);
        };
        after = last.id;
        for balance in &batch {
            let record = match balance.lot {
                0 => format!("cost {}", balance.id),
                lot => format!("cost of {}", LotCode::new(lot)),
            };
            compare(audit, &record, balance);
            total = total.saturating_add(balance.kept.1);
        }
        audit.layers += i64::try_from(batch.len()).unwrap_or(0);
    }
}

/// Rule 2 for purchases: total, lines, lots and ledger say the same. Answers the sum of the totals.
fn purchases(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<i64> {
    let (mut after, mut total) = (0, 0_i64);
    loop {
        let batch = tx.audit_purchases(after, BATCH)?;
        let Some(last) = batch.last() else {
            return Ok(total);
        };
        after = last.id;
        for sum in &batch {
            total = total.saturating_add(sum.home);
            for (what, value) in [
                ("lines", sum.lines),
                ("lots", sum.lots),
                ("ledger's receipts", sum.ledger),
            ] {
                if value != sum.home {
                    let detail = format!("its {what} add up to {value}, its total is {}", sum.home);
                    let record = PurchaseCode::new(sum.id).to_string();
                    audit.findings.push(Finding {
                        rule: 2,
                        record,
                        detail,
                    });
                }
            }
        }
        audit.purchases += i64::try_from(batch.len()).unwrap_or(0);
    }
}

/// Rule 2 for garments: none has given more value away than it got.
fn garments(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    for (garment, value) in tx.audit_negative_garments()? {
        audit.findings.push(Finding {
            rule: 2,
            record: GarmentCode::new(garment).to_string(),
            detail: format!("more value left it than reached it: {value}"),
        });
    }
    Ok(())
}

/// Rule 2 for the whole book: what was paid is on the shelf, as the records keep it, or where the ledger says it went.
fn whole(tx: &mut Tx<'_>, audit: &mut Audit, received: i64, shelf: i64) -> Done<()> {
    let elsewhere = tx.audit_value_elsewhere()?;
    if received != shelf.saturating_add(elsewhere) {
        audit.findings.push(Finding {
            rule: 2,
            record: "the whole book".to_owned(),
            detail: format!(
                "purchases come to {received}; the shelf holds {shelf} and {elsewhere} went to garments, losses and the rest"
            ),
        });
    }
    Ok(())
}
