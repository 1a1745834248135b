//! What a cut is drawn from, and what the ledger is asked to do.

use super::{Case, draw::Fills};
use crate::{
    desk::{
        Desk,
        failure::{Done, invalid, wrong_state},
    },
    garments::need::NeedRecord,
    promises::{self, fit, panel, reservations::active_of},
    shelf::shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType, cuts::Cut};
use ellwand_domain::{
    code::ReservationCode,
    ledger::{CutOrder, Panel, Quantity},
    setting::{CutReason, ReservationState},
};
use ellwand_storage::{Garment, Reservation};

impl Case<'_> {
    pub(super) fn order(
        &mut self,
        desk: &mut Desk<'_>,
        quantity: Quantity,
        fills: &Fills,
    ) -> Done<CutOrder> {
        let on = self.shelved.stored.piece.id;
        let may_break = promises::of_garments(desk, &self.request.break_promises, on)?;
        let rectangle = self.shelved.stored.piece.rectangle;
        let offcut_length = Quantity::new(desk.context.workshop.offcut_length_um)?;
        let panel = self.panel(desk, quantity)?;
        self.panel = panel.map(|panel| panel.width);
        let too_short = match rectangle {
            Some(_) => offcut_length.less(Quantity::new(1)?),
            None => Quantity::ZERO,
        };
        let (outer_waste_up_to, waste_up_to) = match self.request.keep_rest {
            Some(true) => (Quantity::ZERO, Quantity::ZERO),
            Some(false) => {
                let all = self.shelved.stored.piece.quantity;
                (all, all)
            }
            None => (too_short, too_short),
        };
        Ok(CutOrder {
            quantity,
            end: self.request.end,
            at: self.request.at.as_ref().map(|at| at.value().into()),
            reservation: self.reservation.as_ref().map(|row| row.id),
            last: fills.all,
            may_break,
            panel,
            waste_up_to,
            outer_waste_up_to,
        })
    }
}

impl Case<'_> {
    /// The panel that is cut: as typed; else the rows of its parts, where the strip beside them is worth keeping.
    fn panel(&self, desk: &mut Desk<'_>, length: Quantity) -> Done<Option<Panel>> {
        let rectangle = self.shelved.stored.piece.rectangle;
        let Some(typed) = &self.request.panel_width else {
            let as_planned = self.request.reason == CutReason::Planned
                && self.request.keep_strip != Some(false)
                && fit::still_to_do(&self.need, &self.shelved).is_none();
            if !as_planned {
                return Ok(None);
            }
            let planned = panel::planned(desk, &self.need, &self.shelved, length)?;
            return Ok(planned.map(|(panel, _)| panel));
        };
        let usable = rectangle
            .ok_or_else(|| panel::no_panel("panel_width"))?
            .usable();
        let by_rule = panel::panel(desk.context, usable, length, typed.value());
        Ok(Some(Panel {
            keep_strip: self.request.keep_strip.unwrap_or(by_rule.keep_strip),
            ..by_rule
        }))
    }
}

/// The promise a cut draws on: the named one; else, for a planned cut, the need's only active one (on the named
/// piece). A re-cut, toile or swatch takes free material unless a promise is named.
pub(super) fn reservation_of(
    desk: &mut Desk<'_>,
    request: &Cut,
    garment: &Garment,
    need: &NeedRecord,
) -> Done<Option<Reservation>> {
    if let Some(code) = request.reservation {
        let row = promises::row(desk, code.get())?;
        if row.need_id != need.row.id {
            let detail = format!(
                "{code} is not for the {} of {}",
                need.row.role, request.garment
            );
            return Err(invalid("reservation", detail).naming("reservation", code));
        }
        if row.state != ReservationState::Active {
            let detail = format!("{code} is no longer active: it was {}", row.state);
            return Err(
                wrong_state(detail, "reserve again, or cut free cloth with --from")
                    .naming("reservation", code)
                    .naming("state", row.state),
            );
        }
        return Ok(Some(row));
    }
    if request.reason != CutReason::Planned {
        return Ok(None);
    }
    let mut rows = active_of(desk, garment.id, need.row.id)?;
    if let Some(piece) = request.piece {
        let id = Shelved::load(desk, piece)?.stored.piece.id;
        rows.retain(|row| row.piece_id == id);
    }
    if let [first, _, ..] = rows.as_slice() {
        let first = ReservationCode::new(first.id);
        let codes: Vec<String> = rows
            .iter()
            .map(|row| ReservationCode::new(row.id).to_string())
            .collect();
        let detail = format!(
            "the {} has several promises: {}",
            need.row.role,
            codes.join(", ")
        );
        return Err(Problem::new(ProblemType::InvalidValue, detail)
            .field("reservation")
            .hint(format!("choose the one to cut from: --reservation {first}"))
            .with("held_by", codes)
            .into());
    }
    Ok(rows.pop())
}
