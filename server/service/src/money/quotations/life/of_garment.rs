//! What acts on a garment mean for its quotations.

use crate::desk::{
    Desk,
    failure::{Done, wrong_state},
    trace::Traced,
};
use crate::money::quotations::{
    promised::{self, Ends},
    show,
};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    pricing::Standing,
    quantity::Money,
    setting::{PriceFrom, QuotationState},
};
use ellwand_storage::{Quotation, Tx};

/// Quotations of a garment in a state, newest first; a garment has few.
fn in_state(tx: &mut Tx<'_>, garment: i64, state: QuotationState) -> Done<Vec<Quotation>> {
    Ok(tx.quotations(Some(state), Some(garment), i64::MAX, i64::MAX)?)
}

/// Refuses to give up a garment that a customer was promised at a price.
pub(crate) fn check_not_agreed(tx: &mut Tx<'_>, garment: i64) -> Done<()> {
    // The newest goes first: others may rest on it.
    let accepted = in_state(tx, garment, QuotationState::Accepted)?;
    let Some(row) = accepted.first() else {
        return Ok(());
    };
    let (code, garment) = (QuotationCode::new(row.id), GarmentCode::new(garment));
    let hint = format!(
        "cancel {code} first and choose what to keep of its payments, for example: ellwand quote close {code} --keep \
         '100% of materials'"
    );
    Err(
        wrong_state(format!("{code} is accepted for {garment}"), &hint)
            .naming("quotation", code)
            .naming("garment", garment),
    )
}

/// Closes what is still open for a garment that is given up; their numbers, and what was written over. What was promised
/// goes with the garment.
pub(crate) fn close_open(tx: &mut Tx<'_>, garment: i64) -> Done<(Vec<i64>, Vec<Traced>)> {
    let (mut closed, mut traces) = (Vec::new(), Vec::new());
    for mut row in in_state(tx, garment, QuotationState::Open)? {
        traces.push(promised::trace(&row, &Ends::new())?);
        row.state = QuotationState::Closed;
        tx.update_quotation(&row)?;
        closed.push(row.id);
    }
    closed.reverse();
    Ok((closed, traces))
}

/// The quotation that a garment is sold by: accepted, and no supplement. There is one at most.
pub(crate) fn sold_by(tx: &mut Tx<'_>, garment: i64) -> Done<Option<Quotation>> {
    let accepted = in_state(tx, garment, QuotationState::Accepted)?;
    Ok(accepted.into_iter().find(|row| row.supplement_to.is_none()))
}

/// Refuses to sell a garment by two quotations: both would be due at its delivery.
pub(crate) fn check_not_sold(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<()> {
    if quotation.supplement_to.is_some() {
        return Ok(());
    }
    let garment = GarmentCode::new(quotation.garment_id);
    let Some(sold) = sold_by(tx, quotation.garment_id)?.filter(|row| row.id != quotation.id) else {
        return Ok(());
    };
    let (code, sold) = (
        QuotationCode::new(quotation.id),
        QuotationCode::new(sold.id),
    );
    let hint = format!(
        "price what changed since with ellwand quote make {garment} --supplement-to {sold}, or cancel {sold} first with \
         ellwand quote close {sold}"
    );
    Err(wrong_state(
        format!("{garment} is already sold by {sold}, so {code} cannot be accepted as well"),
        &hint,
    )
    .naming("garment", garment)
    .naming("quotation", sold))
}

/// That a changed plan does not change the price that was agreed; for the newest quotation that is no supplement.
pub(crate) fn price_stays(tx: &mut Tx<'_>, garment: i64) -> Done<Option<String>> {
    Ok(sold_by(tx, garment)?.map(|row| {
        let (code, garment) = (QuotationCode::new(row.id), GarmentCode::new(garment));
        format!(
            "{code} is agreed at its price; price the change with a supplement: ellwand quote make {garment} --supplement-to \
             {code}"
        )
    }))
}

/// What is still to be paid on each accepted quotation of a garment, or was paid beyond it.
pub(crate) fn still_to_pay(desk: &mut Desk<'_>, garment: i64) -> Done<Vec<String>> {
    let mut notes = Vec::new();
    for row in in_state(desk, garment, QuotationState::Accepted)?
        .iter()
        .rev()
    {
        let agreed = show::agreed(desk, row)?;
        let Standing {
            open, left, over, ..
        } = show::to_pay(desk, row, &agreed)?;
        let code = QuotationCode::new(row.id);
        let amount_text = |amount: Money| format!("{} {}", amount.decimal(), amount.currency);
        notes.push(match (over.minor, left.minor) {
            (1.., _) => format!(
                "{} more than the total of {code} was paid",
                amount_text(over)
            ),
            (_, 0) => format!("{code} is paid"),
            _ if open == left => format!(
                "{} of {code} is still to be paid, all of it due now",
                amount_text(left)
            ),
            _ => format!(
                "{} of {code} is still to be paid, {} of it due now",
                amount_text(left),
                open.decimal()
            ),
        });
    }
    Ok(notes)
}

/// The accepted quotation of a garment that was made after a booking and rests on what the garment did cost (`from` actual), or
/// on its plan.
pub(crate) fn agreed_since(
    tx: &mut Tx<'_>,
    garment: i64,
    booking: i64,
    from: PriceFrom,
) -> Done<Option<QuotationCode>> {
    for row in in_state(tx, garment, QuotationState::Accepted)? {
        let accepted = row.accepted.unwrap_or(row.version);
        let made = crate::money::quotations::version_of(tx, &row, accepted)?.booking_id;
        if made > booking && show::frozen(tx, &row, accepted)?.inside.from == from {
            return Ok(Some(QuotationCode::new(row.id)));
        }
    }
    Ok(None)
}
