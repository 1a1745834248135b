//! What a cut is drawn from, and what the ledger is asked to do.

use super::{Case, draw::Fills};
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure, invalid, wrong_state},
    },
    garments::need::NeedRecord,
    promises::{self, reservations::active_of},
    shelf::shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType, cuts::Cut};
use ellwand_domain::{
    code::ReservationCode,
    ledger::{CutOrder, Panel, Quantity, Rectangle},
    quantity::Micrometres,
    setting::{CutReason, ReservationState},
};
use ellwand_storage::{Garment, Reservation};

impl Case<'_> {
    pub(super) fn order(
        &self,
        desk: &mut Desk<'_>,
        quantity: Quantity,
        fills: &Fills,
    ) -> Done<CutOrder> {
        let on = self.shelved.stored.piece.id;
        let may_break = promises::of_garments(desk, &self.request.break_promises, on)?;
        let rectangle = self.shelved.stored.piece.rectangle;
        let offcut_length = Quantity::new(desk.context.workshop.offcut_length_um)?;
        let panel = match (&self.request.panel_width, rectangle) {
            (None, _) => None,
            (Some(_), None) => return Err(no_panel("panel_width")),
            (Some(width), Some(rectangle)) => {
                let by_rule = panel(desk.context, rectangle, quantity, width.value());
                Some(Panel {
                    keep_strip: self.request.keep_strip.unwrap_or(by_rule.keep_strip),
                    ..by_rule
                })
            }
        };
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

/// Refuses a panel of what has no width.
pub(crate) fn no_panel(field: &str) -> Failure {
    invalid(field, "only cloth and interlining are cut in panels")
}

/// A panel of this length and width, whose strip is kept by the workshop's rule.
pub(crate) fn panel(
    context: &Context<'_>,
    rectangle: Rectangle,
    length: Quantity,
    width: Micrometres,
) -> Panel {
    let beside = rectangle.usable().less(width);
    let keep_strip = length.get() >= context.workshop.offcut_length_um
        && beside.get() >= context.workshop.offcut_width_um;
    Panel {
        width,
        keep_strip,
        strip_value: context.workshop.strip_value,
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
