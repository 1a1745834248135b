//! The range of mass per area that a need asks for, judged as its width is: after the preparation.

use super::Reason;
use crate::{
    failure::{Done, invalid},
    garments::need::NeedRecord,
    shelved::Shelved,
};
use ellwand_contract::Gsm;
use ellwand_domain::{cloth::after_shrinkage, need::ClothFit, shrinkage::Ratio};

/// Is the piece as heavy as the need asks once it is prepared? What it shrinks makes it denser by the same share of its area.
pub(super) fn check(
    need: &NeedRecord,
    shelved: &Shelved,
    fit: &ClothFit,
) -> Done<Result<(), Reason>> {
    if need.mass_min.is_none() && need.mass_max.is_none() {
        return Ok(Ok(()));
    }
    let Some(now) = shelved.mass()? else {
        let text = "its mass per area is unknown; the need sets a range";
        return Ok(Err(Reason::unknown(
            text,
            "enter the mass with ellwand lot edit",
        )));
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
    if let Some(least) = need.mass_min.filter(|least| mass.0 < *least) {
        let text = format!(
            "{mass} g/m²{after}; the need asks for at least {}",
            Gsm(least)
        );
        return Ok(Err(Reason::new(text, "choose a heavier cloth")));
    }
    if let Some(most) = need.mass_max.filter(|most| mass.0 > *most) {
        let text = format!(
            "{mass} g/m²{after}; the need asks for at most {}",
            Gsm(most)
        );
        return Ok(Err(Reason::new(text, "choose a lighter cloth")));
    }
    Ok(Ok(()))
}
