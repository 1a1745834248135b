//! Facets that are no piece's: what the booking wrote over is there again.

use super::{Case, Effect, cannot};
use crate::{
    desk::{
        Desk,
        detail::PlanKept,
        failure::{Done, not_found},
        trace,
    },
    garments::edit::keeps_customer,
    people::{parties, tokens},
    shelf::{
        lots::correct::widths_anew,
        material_edit, sheet,
        shelved::{LotRecord, read_sheet},
    },
    workshop::{self, kept},
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::GarmentCode,
    setting::{BookingKind, Facet, GarmentState},
};
use ellwand_storage::{DetailRating, Garment, Trace};
use std::collections::BTreeSet;

impl Case {
    fn wrote(&self, facet: Facet) -> impl Iterator<Item = &Trace> {
        self.traces.iter().filter(move |row| row.facet == facet)
    }

    /// Fields of sheets are as they were; what others set since stays. Pieces that came of others since follow the sheet back.
    pub(super) fn sheets_back(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let lots: BTreeSet<i64> = self.wrote(Facet::Sheet).map(|row| row.subject_id).collect();
        for id in lots {
            let mut record = LotRecord::load(desk, id)?;
            let taken_back = record.sheet.clone();
            let mut fields = record.lot.sheet.clone();
            for row in self.wrote(Facet::Sheet).filter(|row| row.subject_id == id) {
                if row.part == trace::DYE_LOT {
                    record.lot.dye_lot = trace::was(row)?;
                    continue;
                }
                fields = trace::field_back(&fields, &row.part, trace::was(row)?)?;
            }
            record.sheet = read_sheet(&fields)?;
            record.lot.sheet = sheet::write(&record.sheet)?;
            sheet::fill_search_columns(&mut record.lot, &record.sheet);
            desk.tx.update_lot(&record.lot)?;
            effect.lots.insert(id);
            let mut widths = widths_anew(desk, &record, &taken_back)?;
            for stored in desk.tx.pieces_of_lot(id)? {
                let own = |row: &Trace| {
                    let facet = matches!(row.facet, Facet::Widths | Facet::Length);
                    facet && row.subject_id == stored.piece.id
                };
                let same = widths.get(&stored.piece.id).copied() == stored.piece.rectangle;
                if same || self.traces.iter().any(own) {
                    widths.remove(&stored.piece.id);
                }
            }
            effect.widths.extend(widths);
        }
        Ok(())
    }

    pub(super) fn facets_back(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        for row in &self.traces {
            let id = row.subject_id;
            match row.facet {
                Facet::Garment => {
                    desk.tx.update_garment(&trace::was(row)?)?;
                }
                Facet::Plan => self.plan_back(desk, row, effect)?,
                Facet::Quotation => {
                    self.quotation_back(desk, id, trace::was(row)?, effect)?;
                }
                Facet::Rating => {
                    let name_search = row.part.to_lowercase();
                    match trace::was::<Option<(i64, i64)>>(row)? {
                        Some((rating, booking_id)) => {
                            desk.tx.save_detail_rating(&DetailRating {
                                garment_id: id,
                                name: row.part.clone(),
                                name_search,
                                rating,
                                booking_id,
                            })?
                        }
                        None => desk.tx.delete_detail_rating(id, &name_search)?,
                    }
                }
                Facet::Books => {
                    let mut settings = desk.context.workshop.clone();
                    settings.closed_to = trace::was::<Option<NaiveDate>>(row)?;
                    workshop::save(desk, settings, workshop::CLOSING)?;
                }
                Facet::Token => effect.notes.push(tokens::take_away(desk, id)?),
                Facet::Supplier | Facet::Customer => parties::put_back(desk, row)?,
                _ => {}
            }
        }
        material_edit::put_back(desk, self.wrote(Facet::Material))?;
        if self.kind() == BookingKind::Set {
            kept::put_back(desk, self.code(), &self.traces)?;
        }
        self.takers_back(desk)
    }

    pub(super) fn garment(&self, desk: &mut Desk<'_>, id: i64) -> Done<Garment> {
        let code = GarmentCode::new(id);
        desk.tx
            .garment(id)?
            .ok_or_else(|| not_found(format!("garment {code}"), "see ellwand garment list"))
    }

    /// The plan is as it was before an edit, and its promises are looked at again; one that was planned only now is cancelled.
    fn plan_back(&self, desk: &mut Desk<'_>, row: &Trace, effect: &mut Effect) -> Done<()> {
        let mut garment = self.garment(desk, row.subject_id)?;
        let Some(before) = trace::was::<Option<PlanKept>>(row)? else {
            garment.state = GarmentState::Cancelled;
            return Ok(desk.tx.update_garment(&garment)?);
        };
        if before.customer != garment.customer_id
            && let Some(reason) = keeps_customer(desk, &garment)?
        {
            let code = GarmentCode::new(garment.id);
            let detail = format!("{code} stays with its customer: {reason}");
            let hint = "close the quotation or take the cut back first";
            return Err(cannot(detail, hint).naming("garment", code));
        }
        let active = desk.tx.active_reservations_of_garment(garment.id)?;
        let cuts = desk.tx.cuts_of_garment(garment.id)?;
        for need in desk.tx.needs(garment.id)? {
            let was = before.needs.iter().find(|kept| kept.id == need.id);
            let same = was.is_some_and(|was| (was.units, was.kind) == (need.units, need.kind));
            let used = cuts.iter().any(|cut| cut.need_id == need.id)
                || active.iter().any(|row| row.need_id == need.id);
            if used && !same {
                let code = GarmentCode::new(garment.id);
                let detail = format!("the {} of {code} has been promised or cut since", need.role);
                return Err(cannot(detail, "release or take that back first")
                    .naming("garment", code)
                    .with("need", need.role));
            }
        }
        before.write(desk, &mut garment)?;
        effect.pieces.extend(active.iter().map(|row| row.piece_id));
        Ok(())
    }
}
