//! What the ledger says went to a garment and to its losses, by the act that moved it.

use crate::desk::{detail::Detail, failure::Done};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, PurchaseCode},
    costing::LossReason,
    ledger::{Account, AccountKind},
    quantity::Millionths,
};
use ellwand_storage::{CutEntry, StoredMovement, Tx};
use std::collections::BTreeMap;

/// Material of one need, lot and loss.
#[derive(Debug, Clone)]
pub(super) struct Lotted {
    pub(super) need: i64,
    pub(super) lot: i64,
    pub(super) loss: Option<LossReason>,
    pub(super) quantity: i64,
    pub(super) value: Millionths,
    /// Bookings of the cuts that stand.
    pub(super) cuts: Vec<i64>,
}

/// All that went to a garment.
#[derive(Debug, Default)]
pub(super) struct Flows {
    pub(super) materials: Vec<Lotted>,
    /// Late charges by purchase; negative for credits.
    pub(super) charges: BTreeMap<i64, Millionths>,
    /// What came from cancelled garments.
    pub(super) transfers: BTreeMap<i64, Millionths>,
    /// What went on when the garment itself was cancelled, for people.
    pub(super) left: Vec<(String, Millionths)>,
}

/// The movements of one act, its undoing among them.
struct Act {
    detail: Detail,
    net: Millionths,
    undone: bool,
    movements: Vec<StoredMovement>,
}

impl Flows {
    pub(super) fn read(tx: &mut Tx<'_>, garment: i64) -> Done<Self> {
        let mut flows = Self::default();
        for (booking, act) in acts(tx, garment, &mut flows.charges)? {
            match &act.detail {
                Detail::Cut(_) => {
                    let cut = tx.cut(booking)?.ok_or_else(|| missing(booking))?;
                    flows.cut(&cut, &act)?;
                }
                Detail::Moved { garment: from } if *from != garment => {
                    add(&mut flows.transfers, *from, act.net)?;
                }
                Detail::Moved { .. } if !act.undone => flows.leave(garment, &act)?,
                _ => {}
            }
        }
        flows.charges.retain(|_, value| !value.is_zero());
        flows.transfers.retain(|_, value| !value.is_zero());
        Ok(flows)
    }

    fn cut(&mut self, cut: &CutEntry, act: &Act) -> Done<()> {
        if act.undone && act.net.is_zero() {
            return Ok(());
        }
        let quantity = if act.undone {
            0
        } else {
            cut.quantity.saturating_add(cut.wasted)
        };
        let cuts = if act.undone {
            Vec::new()
        } else {
            vec![cut.booking_id]
        };
        let loss = LossReason::of_cut(cut.reason);
        let of = (cut.need_id, cut.lot_id, loss);
        let same = |line: &&mut Lotted| (line.need, line.lot, line.loss) == of;
        match self.materials.iter_mut().find(same) {
            Some(line) => {
                line.quantity = line.quantity.saturating_add(quantity);
                line.value = line.value.plus(act.net)?;
                line.cuts.extend(cuts);
            }
            None => self.materials.push(Lotted {
                need: cut.need_id,
                lot: cut.lot_id,
                loss,
                quantity,
                value: act.net,
                cuts,
            }),
        }
        Ok(())
    }

    /// Remembers where the garment's material went when it was cancelled; a finished one keeps its cost.
    fn leave(&mut self, garment: i64, act: &Act) -> Done<()> {
        for stored in &act.movements {
            let (to, value) = (stored.movement.to, stored.movement.value);
            let place = match to.kind {
                AccountKind::Garment if to.id != garment => GarmentCode::new(to.id).to_string(),
                AccountKind::Piece | AccountKind::Layer => "the shelf".to_owned(),
                AccountKind::Abandoned => to.kind.text().to_owned(),
                _ => continue,
            };
            if value.is_zero() {
                continue;
            }
            match self.left.iter_mut().find(|(known, _)| *known == place) {
                Some((_, sum)) => *sum = sum.plus(value)?,
                None => self.left.push((place, value)),
            }
        }
        Ok(())
    }

    /// Takes credits off the material they were given for, first off lots of their own purchase, so that no line is
    /// below zero. `purchase_of` names a lot's purchase.
    pub(super) fn deduct_credits(&mut self, purchase_of: &BTreeMap<i64, i64>) -> Done<Vec<String>> {
        let mut notes = Vec::new();
        for (purchase, net) in &mut self.charges {
            if net.get() >= 0 {
                continue;
            }
            let mut left = net.negated();
            let own = |line: &Lotted| purchase_of.get(&line.lot) == Some(purchase);
            let of_job = self.materials.iter_mut().filter(|line| line.loss.is_none());
            let (first, then): (Vec<_>, Vec<_>) = of_job.partition(|line| own(line));
            for line in first.into_iter().chain(then) {
                let part = left.min(line.value);
                line.value = line.value.minus(part)?;
                left = left.minus(part)?;
            }
            notes.push(format!(
                "a credit on {} is taken off its material",
                PurchaseCode::new(*purchase)
            ));
            *net = Millionths::ZERO;
        }
        self.charges.retain(|_, value| !value.is_zero());
        Ok(notes)
    }
}

fn add(sums: &mut BTreeMap<i64, Millionths>, key: i64, value: Millionths) -> Done<()> {
    let sum = sums.entry(key).or_default();
    *sum = sum.plus(value)?;
    Ok(())
}

/// Movements to and from the garment and its losses by the act they belong to; an undoing belongs to what it undid.
///
/// What late charges brought goes to `charges`, by purchase, whoever moved a share of them since.
fn acts(
    tx: &mut Tx<'_>,
    garment: i64,
    charges: &mut BTreeMap<i64, Millionths>,
) -> Done<BTreeMap<i64, Act>> {
    let mut acts: BTreeMap<i64, Act> = BTreeMap::new();
    let mut known: BTreeMap<i64, (i64, bool)> = BTreeMap::new();
    for kind in [
        AccountKind::Garment,
        AccountKind::OwnMistake,
        AccountKind::FaultyCloth,
    ] {
        let account = Account::new(kind, garment);
        for (stored, _) in tx.movements_at(account)? {
            let value = stored.movement.value;
            let signed = if stored.movement.to == account {
                value
            } else {
                value.negated()
            };
            let places = [stored.movement.from, stored.movement.to];
            let supplier = places.iter().find(|place| place.kind.is_source());
            if let Some(supplier) = supplier {
                add(charges, supplier.id, signed)?;
                continue;
            }
            let (id, undoing) = match known.get(&stored.booking) {
                Some(known) => *known,
                None => {
                    let found = act_of(tx, stored.booking, &mut acts)?;
                    known.insert(stored.booking, found);
                    found
                }
            };
            let Some(act) = acts.get_mut(&id) else {
                continue;
            };
            act.net = act.net.plus(signed)?;
            act.undone |= undoing;
            act.movements.push(stored);
        }
    }
    Ok(acts)
}

/// The act that a booking belongs to, and whether the booking undoes it.
fn act_of(tx: &mut Tx<'_>, booking: i64, acts: &mut BTreeMap<i64, Act>) -> Done<(i64, bool)> {
    let row = tx.booking(booking)?.ok_or_else(|| missing(booking))?;
    let (id, row) = match row.undoes {
        Some(undone) => (undone, tx.booking(undone)?.ok_or_else(|| missing(undone))?),
        None => (booking, row),
    };
    if let std::collections::btree_map::Entry::Vacant(place) = acts.entry(id) {
        let detail = serde_json::from_str(&row.detail).map_err(|_| missing(id))?;
        place.insert(Act {
            detail,
            net: Millionths::ZERO,
            undone: false,
            movements: Vec::new(),
        });
    }
    Ok((id, id != booking))
}

fn missing(id: i64) -> Problem {
    let code = BookingCode::new(id);
    Problem::new(
        ProblemType::Internal,
        format!("the booking {code} is missing or cannot be read"),
    )
}
