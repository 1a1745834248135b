//! Business refusals, by kind of booking.

use super::{Case, cannot};
use crate::{
    desk::{
        Desk,
        detail::{Detail, Priced},
        failure::Done,
    },
    people::tokens,
    purchases::charge,
    shelf::shelved::LotRecord,
    workshop::kept,
};
use ellwand_contract::access::Access;
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LayCode, LotCode, PurchaseCode, ReservationCode},
    ledger::AccountKind,
    setting::{BookingKind, Facet, Grant, PriceFrom},
};
use ellwand_storage::{Subject, Trace, WorkEntry};

/// What booking such a thing needs, and so taking it back.
const fn needs(kind: BookingKind) -> Access {
    match kind {
        BookingKind::Placed
        | BookingKind::Flawed
        | BookingKind::Split
        | BookingKind::Measured
        | BookingKind::Tested
        | BookingKind::Prepared
        | BookingKind::Reserved
        | BookingKind::Released
        | BookingKind::Expired
        | BookingKind::Laid
        | BookingKind::Cut
        | BookingKind::Worked => Access::Daily,
        BookingKind::Closed => Access::CloseBooks,
        BookingKind::Given | BookingKind::Sold | BookingKind::Discarded => Access::WriteOffs,
        BookingKind::LetIn | BookingKind::Revoked => Access::People,
        BookingKind::Erased => Access::Settings,
        // What is set needs more, part by part.
        _ => Access::Trade,
    }
}

impl Case {
    /// Records of a kind that the booking touched.
    fn subjects(&self, desk: &mut Desk<'_>, subject: Subject) -> Done<Vec<i64>> {
        let rows = desk.tx.subjects_of(self.target.id)?.into_iter();
        Ok(rows
            .filter(|row| row.subject == subject)
            .map(|row| row.subject_id)
            .collect())
    }

    pub(super) fn lots(&self, desk: &mut Desk<'_>) -> Done<Vec<i64>> {
        self.subjects(desk, Subject::Lot)
    }

    /// Garments that it touched, its own first.
    pub(super) fn garments(&self, desk: &mut Desk<'_>) -> Done<Vec<i64>> {
        match self.detail {
            Detail::Moved { garment } => Ok(vec![garment]),
            _ => self.subjects(desk, Subject::Garment),
        }
    }

    /// The minutes that it logged.
    pub(super) fn work(&self, desk: &mut Desk<'_>) -> Done<Vec<WorkEntry>> {
        let mut work = Vec::new();
        for garment in self.garments(desk)? {
            work.extend(desk.tx.work(garment)?);
        }
        work.retain(|work| work.booking_id == self.target.id);
        Ok(work)
    }

    pub(super) fn rules(&self, desk: &mut Desk<'_>) -> Done<()> {
        let access = match self.kind() {
            // A person was measured, and no piece: whoever may not book it may not take it back.
            BookingKind::Measured if self.lots(desk)?.is_empty() => Access::Trade,
            kind => needs(kind),
        };
        desk.context.caller.may_do(access)?;
        match self.kind() {
            BookingKind::Bought => self.uncharged_purchase(desk),
            BookingKind::Charged => self.price_unused(desk),
            BookingKind::Planned => self.plan_rules(desk),
            BookingKind::Cut => {
                for garment in self.garments(desk)? {
                    self.garment_open(desk, garment)?;
                    self.not_agreed(desk, garment, PriceFrom::Actual)?;
                }
                Ok(())
            }
            BookingKind::Worked => self.work_rules(desk),
            BookingKind::Laid => self.lay_unused(desk),
            BookingKind::Finished => {
                for garment in self.garments(desk)? {
                    self.not_agreed(desk, garment, PriceFrom::Actual)?;
                }
                Ok(())
            }
            BookingKind::Cancelled => {
                for line in &self.movements {
                    if line.to.kind == AccountKind::Garment {
                        self.garment_open(desk, line.to.id)?;
                    }
                }
                Ok(())
            }
            BookingKind::Accepted | BookingKind::Dropped => {
                self.facets_stand(desk)?;
                for row in &self.traces {
                    if row.facet == Facet::Quotation {
                        self.quotation_rules(desk, row)?;
                    }
                }
                self.plan_rules(desk)
            }
            BookingKind::Set => {
                self.facets_stand(desk)?;
                kept::may_go_back(desk, self.code(), &self.traces)
            }
            BookingKind::LetIn => {
                self.facets_stand(desk)?;
                let mut tokens = self.traces.iter();
                tokens.try_for_each(|row| tokens::may_revoke(desk, row.subject_id))
            }
            BookingKind::Revoked => Err(cannot(
                format!("{} revoked a token, and that stays", self.code()),
                "let the person in anew with ellwand token create; take others back by their codes",
            )),
            BookingKind::Erased => Err(cannot(
                format!("{} erased a name for good", self.code()),
                "nothing of it is kept; take others back by their codes",
            )),
            BookingKind::Tested => self.not_chosen(desk),
            _ => Ok(()),
        }
    }

    fn uncharged_purchase(&self, desk: &mut Desk<'_>) -> Done<()> {
        let Some(purchase) = self.bought() else {
            return Ok(());
        };
        let charges = desk.tx.purchase_charges(purchase)?;
        let Some(late) = charges.iter().find(|charge| charge.late) else {
            return Ok(());
        };
        let (code, late) = (
            PurchaseCode::new(purchase),
            BookingCode::new(late.booking_id),
        );
        let detail = format!("{code} has late charges, the first of them by {late}");
        let hint = format!("take those back first, the last one first: ellwand buy show {code}");
        Err(cannot(detail, &hint)
            .naming("purchase", code)
            .naming("booking", late))
    }

    /// Refuses to forget a price by which a later charge was shared.
    fn price_unused(&self, desk: &mut Desk<'_>) -> Done<()> {
        let Detail::Charged {
            from,
            priced: Some(Priced { lot, .. }),
            ..
        } = &self.detail
        else {
            return Ok(());
        };
        let lines = desk.tx.purchase_lines(from.id)?;
        let at = lines.iter().position(|line| line.lot_id == *lot);
        let later = desk.tx.purchase_charges(from.id)?.into_iter();
        for charge in later.filter(|charge| charge.booking_id > self.target.id) {
            if charge::is_price_of(&charge, at.unwrap_or(0))? {
                let (lot, by) = (LotCode::new(*lot), BookingCode::new(charge.booking_id));
                let detail = format!("{by} corrected the price of {lot} since");
                return Err(super::first(detail).naming("booking", by));
            }
            if charge::is_by_price(&charge, at.unwrap_or(0))? {
                let (lot, by) = (LotCode::new(*lot), BookingCode::new(charge.booking_id));
                let detail = format!("{by} shared a charge by the price of {lot}");
                return Err(super::first_back(detail, by));
            }
        }
        Ok(())
    }

    /// Refuses where the plan was agreed, or where it was made by this booking and something was done for it.
    fn plan_rules(&self, desk: &mut Desk<'_>) -> Done<()> {
        let plan = |row: &&Trace| row.facet == Facet::Plan;
        let Some(row) = self.traces.iter().find(plan) else {
            return Ok(());
        };
        let garment = row.subject_id;
        self.garment_open(desk, garment)?;
        self.not_agreed(desk, garment, PriceFrom::Plan)?;
        if row.was.as_deref() != Some("null") {
            return Ok(());
        }
        let code = GarmentCode::new(garment);
        let active = desk.tx.active_reservations_of_garment(garment)?;
        if !active.is_empty() {
            let active = active.iter().map(|row| ReservationCode::new(row.id));
            let codes: Vec<String> = active.map(|code| code.to_string()).collect();
            let detail = format!("material is promised to {code}: {}", codes.join(", "));
            let hint = format!("release it first: ellwand release --garment {code}");
            return Err(cannot(detail, &hint)
                .naming("garment", code)
                .with("held_by", codes));
        }
        // What another garment gave up went there, too.
        let kinds = [
            BookingKind::Cut,
            BookingKind::Worked,
            BookingKind::Cancelled,
        ];
        if let Some(later) = self.other_bookings(desk, garment, &kinds)?.first() {
            let hint = format!(
                "take that back first: ellwand undo {later}; or ellwand garment cancel {code}"
            );
            return Err(cannot(format!("{later} was booked on {code}"), &hint)
                .naming("garment", code)
                .naming("booking", later));
        }
        Ok(())
    }

    /// Refuses while a promise or a cut was made by the lay.
    fn lay_unused(&self, desk: &mut Desk<'_>) -> Done<()> {
        let Detail::Laid { lay } = self.detail else {
            return Ok(());
        };
        let code = LayCode::new(lay);
        if let Some(promise) = desk.tx.promises_by_lay(lay)?.first() {
            let promise = ReservationCode::new(*promise);
            let detail = format!("{promise} was promised by the lay {code}");
            let hint = format!("release it first: ellwand release {promise}");
            return Err(cannot(detail, &hint)
                .naming("lay", code)
                .naming("reservation", promise));
        }
        match desk.tx.cuts_by_lay(lay)?.first() {
            None => Ok(()),
            Some((cut, _)) => {
                let cut = BookingCode::new(*cut);
                let detail = format!("{cut} was cut by the lay {code}");
                Err(super::first_back(detail, cut).naming("lay", code))
            }
        }
    }

    fn work_rules(&self, desk: &mut Desk<'_>) -> Done<()> {
        for garment in self.garments(desk)? {
            self.garment_open(desk, garment)?;
            self.not_agreed(desk, garment, PriceFrom::Actual)?;
        }
        let own = desk.person()?;
        if self.work(desk)?.iter().any(|work| work.person_id != own) {
            desk.context.caller.needs(Grant::PayRates)?;
        }
        Ok(())
    }

    /// Refuses while a sheet says that this wash test counts.
    fn not_chosen(&self, desk: &mut Desk<'_>) -> Done<()> {
        for lot in self.lots(desk)? {
            let record = LotRecord::load(desk, lot)?;
            let tests = desk.tx.wash_tests(lot)?;
            let own = tests.iter().find(|test| test.booking_id == self.target.id);
            if let Some(own) = own.filter(|own| record.sheet.wash_test == Some(own.number)) {
                let code = record.code();
                return Err(cannot(
                    format!("wash test {} of {code} was chosen to count", own.number),
                    &format!(
                        "let the latest count first: ellwand lot edit {code} --wash-test latest"
                    ),
                )
                .naming("lot", code)
                .with("wash_test", own.number));
            }
        }
        Ok(())
    }
}
