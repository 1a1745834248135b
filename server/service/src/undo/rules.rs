//! Business refusals, by kind of booking.

use super::{Case, cannot};
use crate::{detail::Detail, failure::Done, shelved::LotRecord};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, PurchaseCode, ReservationCode},
    ledger::AccountKind,
    setting::{BookingKind, Facet, Grant, PriceFrom},
};
use ellwand_storage::{Subject, Trace, Tx, WorkEntry};

impl Case<'_, '_> {
    /// Records of a kind that the booking touched.
    fn subjects(&self, tx: &mut Tx<'_>, subject: Subject) -> Done<Vec<i64>> {
        let rows = tx.subjects_of(self.target.id)?.into_iter();
        Ok(rows
            .filter(|row| row.subject == subject)
            .map(|row| row.subject_id)
            .collect())
    }

    pub(super) fn lots(&self, tx: &mut Tx<'_>) -> Done<Vec<i64>> {
        self.subjects(tx, Subject::Lot)
    }

    /// Garments that it touched, its own first.
    pub(super) fn garments(&self, tx: &mut Tx<'_>) -> Done<Vec<i64>> {
        match self.detail {
            Detail::Moved { garment } => Ok(vec![garment]),
            _ => self.subjects(tx, Subject::Garment),
        }
    }

    /// The minutes that it logged.
    pub(super) fn work(&self, tx: &mut Tx<'_>) -> Done<Vec<WorkEntry>> {
        let mut work = Vec::new();
        for garment in self.garments(tx)? {
            work.extend(tx.work(garment)?);
        }
        work.retain(|work| work.booking_id == self.target.id);
        Ok(work)
    }

    pub(super) fn rules(&self, tx: &mut Tx<'_>) -> Done<()> {
        match self.kind() {
            BookingKind::Bought => self.uncharged_purchase(tx),
            BookingKind::Planned => self.plan_rules(tx),
            BookingKind::Cut => {
                for garment in self.garments(tx)? {
                    self.garment_open(tx, garment)?;
                    self.not_agreed(tx, garment, PriceFrom::Actual)?;
                }
                Ok(())
            }
            BookingKind::Worked => self.work_rules(tx),
            BookingKind::Finished => {
                for garment in self.garments(tx)? {
                    self.not_agreed(tx, garment, PriceFrom::Actual)?;
                }
                Ok(())
            }
            BookingKind::Cancelled => {
                for line in &self.movements {
                    if line.to.kind == AccountKind::Garment {
                        self.garment_open(tx, line.to.id)?;
                    }
                }
                Ok(())
            }
            BookingKind::Accepted | BookingKind::Dropped => {
                self.facets_stand(tx)?;
                for row in &self.traces {
                    if row.facet == Facet::Quotation {
                        self.quotation_rules(tx, row)?;
                    }
                }
                self.plan_rules(tx)
            }
            BookingKind::Closed => self.context.caller.needs(Grant::Books),
            BookingKind::Tested => self.not_chosen(tx),
            _ => Ok(()),
        }
    }

    fn uncharged_purchase(&self, tx: &mut Tx<'_>) -> Done<()> {
        let Some(purchase) = self.bought() else {
            return Ok(());
        };
        let charges = tx.purchase_charges(purchase)?;
        let Some(late) = charges.iter().find(|charge| charge.late) else {
            return Ok(());
        };
        let (code, late) = (
            PurchaseCode::new(purchase),
            BookingCode::new(late.booking_id),
        );
        Err(cannot(
            format!("{code} has late charges, the first of them by {late}"),
            "take those back first",
        ))
    }

    /// Refuses where the plan was agreed, or where it was made by this booking and something was done for it.
    fn plan_rules(&self, tx: &mut Tx<'_>) -> Done<()> {
        let plan = |row: &&Trace| row.facet == Facet::Plan;
        let Some(row) = self.traces.iter().find(plan) else {
            return Ok(());
        };
        let garment = row.subject_id;
        self.garment_open(tx, garment)?;
        self.not_agreed(tx, garment, PriceFrom::Plan)?;
        if row.was.as_deref() != Some("null") {
            return Ok(());
        }
        let code = GarmentCode::new(garment);
        let active = tx.active_reservations_of_garment(garment)?;
        if !active.is_empty() {
            let active = active.iter().map(|row| ReservationCode::new(row.id));
            let codes: Vec<String> = active.map(|code| code.to_string()).collect();
            let detail = format!("{code} is promised material: {}", codes.join(", "));
            return Err(cannot(detail, "release it first"));
        }
        // What another garment gave up went there, too.
        let kinds = [
            BookingKind::Cut,
            BookingKind::Worked,
            BookingKind::Cancelled,
        ];
        if let Some(later) = self.other_bookings(tx, garment, &kinds)?.first() {
            return Err(cannot(
                format!("{later} was booked on {code}"),
                "take that back first, or cancel the garment",
            ));
        }
        Ok(())
    }

    fn work_rules(&self, tx: &mut Tx<'_>) -> Done<()> {
        for garment in self.garments(tx)? {
            self.garment_open(tx, garment)?;
            self.not_agreed(tx, garment, PriceFrom::Actual)?;
        }
        let own = self.context.person(tx)?;
        if self.work(tx)?.iter().any(|work| work.person_id != own) {
            self.context.caller.needs(Grant::PayRates)?;
        }
        Ok(())
    }

    /// Refuses while a sheet says that this wash test counts.
    fn not_chosen(&self, tx: &mut Tx<'_>) -> Done<()> {
        for lot in self.lots(tx)? {
            let record = LotRecord::load(tx, lot)?;
            let tests = tx.wash_tests(lot)?;
            let own = tests.iter().find(|test| test.booking_id == self.target.id);
            if let Some(own) = own.filter(|own| record.sheet.wash_test == Some(own.number)) {
                let code = record.code();
                return Err(cannot(
                    format!("wash test {} of {code} was chosen to count", own.number),
                    "let another one count first, with ellwand lot edit",
                ));
            }
        }
        Ok(())
    }
}
