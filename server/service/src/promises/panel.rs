//! Cloth that is not cut across its whole width: the panel, and the strip that is kept beside it.

use super::fit;
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure, invalid},
    },
    garments::need::NeedRecord,
    shelf::shelved::Shelved,
};
use ellwand_domain::{
    ledger::{Panel, Quantity, Rectangle},
    need::ClothDemand,
    quantity::Micrometres,
};

/// Refuses a panel of what has no width.
pub(crate) fn no_panel(field: &str) -> Failure {
    invalid(field, "only cloth and interlining are cut in panels")
}

/// A panel of this length and width, whose strip is kept by the workshop's rule.
pub(crate) fn panel(
    context: &Context<'_>,
    usable: Micrometres,
    length: Quantity,
    width: Micrometres,
) -> Panel {
    let beside = usable.less(width);
    let keep_strip = length.get() >= context.workshop.offcut_length_um
        && beside.get() >= context.workshop.offcut_width_um;
    Panel {
        width,
        keep_strip,
        strip_value: context.workshop.strip_value,
    }
}

/// The panel that the parts of a need take of a length at a usable width, where the strip beside them is worth keeping.
pub(crate) fn of_parts(
    context: &Context<'_>,
    need: &NeedRecord,
    (length, usable): (Quantity, Micrometres),
) -> Option<Panel> {
    let parts = need.demand.as_ref()?.parts()?;
    let width = parts.laid(usable).ok()?.width;
    Some(panel(context, usable, length, width)).filter(|panel| panel.keep_strip)
}

/// The panel that so much of a piece will be once it is prepared and cut for the parts of a need, and the widths of the piece then.
pub(crate) fn planned(
    desk: &mut Desk<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    length: Quantity,
) -> Done<Option<(Panel, Rectangle)>> {
    let has_parts = |demand: &ClothDemand| demand.parts().is_some();
    if !need.demand.as_ref().is_some_and(has_parts) {
        return Ok(None);
    }
    let (Some(rectangle), ([washed], Some(usable))) = (
        shelved.stored.piece.rectangle,
        fit::measured(desk, need, shelved, [length])?,
    ) else {
        return Ok(None);
    };
    let (washed, usable) = (Quantity::new(washed)?, Micrometres::new(usable)?);
    let Some(panel) = of_parts(desk.context, need, (washed, usable)) else {
        return Ok(None);
    };
    let full = rectangle
        .full
        .scale_up(usable.get(), rectangle.usable().get())?;
    let selvedges = full.less(usable);
    Ok(Some((panel, Rectangle { full, selvedges })))
}
