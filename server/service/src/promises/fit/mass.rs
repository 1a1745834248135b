//! The range of mass per area that a need asks for, judged as its width is: after the preparation.

use super::Reason;
use crate::{
    desk::failure::{Done, invalid},
    garments::need::NeedRecord,
    shelf::shelved::Shelved,
};
use ellwand_contract::Gsm;
use ellwand_domain::{cloth::after_shrinkage, need::ClothFit, setting::WhyNot, shrinkage::Ratio};

/// Is the piece as heavy as the need asks once it is prepared? What it shrinks makes it denser by the same share of its area.
pub(super) fn check(
    need: &NeedRecord,
    shelved: &Shelved,
    fit: &ClothFit,
) -> Done<Result<(), Reason>> {
    let asked = need.plan.cloth();
    let (least, most) = (asked.mass_min.as_ref(), asked.mass_max.as_ref());
    if least.is_none() && most.is_none() {
        return Ok(Ok(()));
    }
    let Some(now) = shelved.mass()? else {
        let text = "its mass per area is unknown; the need sets a range";
        let lot = shelved.record.code();
        let hint = format!("enter it: ellwand lot edit {lot} --mass 270gsm");
        return Ok(Err(Reason::unknown(text, &hint)));
    };
    let (mass, after) = match &fit.shrinkage {
        None => (Gsm(now), ""),
        Some(left) => {
            let after = after_shrinkage(now, left.length, left.width.unwrap_or(Ratio::UNCHANGED));
            (
                Gsm(after.map_err(|error| invalid("mass", error.to_string()))?),
                " after preparation",
            )
        }
    };
    if let Some(least) = least.filter(|least| mass.0 < least.value) {
        let text = format!(
            "{mass} g/m²{after}; the need asks for at least {}",
            Gsm(least.value)
        );
        return Ok(Err(Reason::new(
            WhyNot::Mass,
            text,
            "choose a heavier cloth",
        )));
    }
    if let Some(most) = most.filter(|most| mass.0 > most.value) {
        let text = format!(
            "{mass} g/m²{after}; the need asks for at most {}",
            Gsm(most.value)
        );
        return Ok(Err(Reason::new(
            WhyNot::Mass,
            text,
            "choose a lighter cloth",
        )));
    }
    Ok(Ok(()))
}
