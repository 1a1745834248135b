//! Fibres, shrinkage and stiffness of a sheet.

use super::refuse;
use crate::{
    desk::failure::{Done, invalid},
    shelf::{doubts, stiffness},
};
use ellwand_contract::{
    Gsm, Metres, Problem,
    sheets::{FibreInput, Sheet, ShrinkageInput, StiffnessInput},
    stiffness::GrainStiffness,
};
use ellwand_domain::{
    certainty::Certainty,
    cloth::{ClothFinding, FibreShare, check_shares},
    quantity::PartsPerMillion,
    setting::Grain,
    shrinkage::{Preparation, Ratio},
    stiffness::{Reading, decimal_unm, parse_printed, rigidity_from_bending_length},
};

/// Fibre shares; they add up to 100 %.
pub(super) fn fibres(typed: &[FibreInput]) -> Done<Vec<FibreInput>> {
    let refuse = |error: &dyn std::fmt::Display| invalid("fibres", error.to_string());
    let mut shares = Vec::with_capacity(typed.len());
    for FibreInput { fibre, share } in typed {
        let share: PartsPerMillion = share.parse().map_err(|error| refuse(&error))?;
        shares.push(FibreShare::new(fibre, share).map_err(|error| refuse(&error))?);
    }
    check_shares(&shares).map_err(|error| refuse(&error))?;
    let mut kept = Vec::with_capacity(shares.len());
    for FibreShare { fibre, share_ppm } in shares {
        let share = PartsPerMillion::new(share_ppm)?;
        kept.push(FibreInput {
            fibre,
            share: format!("{} %", share.decimal()),
        });
    }
    Ok(kept)
}

/// The name by which a fibre is looked for: the generic one of those that are known, in small letters.
pub(crate) fn generic(fibre: &str) -> String {
    let known = ellwand_domain::cloth::fibre::find(fibre);
    known.map_or(fibre, |known| known.name).to_lowercase()
}

/// Shrinkage as the seller states it.
pub(super) fn shrinkage(typed: &ShrinkageInput, really: bool) -> Done<ShrinkageInput> {
    let ShrinkageInput {
        length,
        width,
        preparation,
    } = typed;
    let found = ClothFinding {
        lengthwise: Some(stated("shrinkage.length", length)?),
        crosswise: width
            .as_ref()
            .map(|width| stated("shrinkage.width", width))
            .transpose()?,
        ..ClothFinding::default()
    };
    let doubts = found.doubts_of_marks();
    doubts::ask(
        "the shrinkage means",
        ["shrinkage.length", "shrinkage.width"],
        &doubts,
        really,
    )?;
    let preparation = match preparation {
        None => None,
        Some(text) => Some(stated_for(text)?.to_string()),
    };
    let width = width.as_ref().map(|width| width.trim().to_owned());
    Ok(ShrinkageInput {
        length: length.trim().to_owned(),
        width,
        preparation,
    })
}

fn stated_for(text: &str) -> Done<Preparation> {
    let field = "shrinkage.preparation";
    match text
        .parse::<Preparation>()
        .map_err(|error| invalid(field, error.to_string()))?
    {
        Preparation::None | Preparation::Raw => Err(invalid(
            field,
            "cloth that is cut as it is does not shrink; choose washed or steamed",
        )),
        preparation => Ok(preparation),
    }
}

fn stated(field: &str, text: &str) -> Done<Ratio> {
    let share: PartsPerMillion = text.parse().map_err(|error| refuse(field, &error))?;
    Ratio::from_ppm(share).map_err(|error| invalid(field, error.to_string()))
}

/// Stiffness along each grain: a rigidity, or a bending length that becomes one with the mass per area.
pub(super) fn stiffness(sheet: &mut Sheet, typed: &StiffnessInput) -> Done<()> {
    let StiffnessInput {
        lengthwise,
        crosswise,
        bias,
        certainty,
    } = typed;
    let given = [
        (Grain::Lengthwise, "stiffness.lengthwise", lengthwise),
        (Grain::Crosswise, "stiffness.crosswise", crosswise),
        (Grain::Bias, "stiffness.bias", bias),
    ];
    let mut any = false;
    for (grain, field, text) in given {
        let Some(text) = text else { continue };
        let found = found(
            sheet,
            grain,
            field,
            text,
            certainty.unwrap_or(Certainty::Stated),
        )?;
        stiffness::put(sheet, found);
        any = true;
    }
    if let (Some(certainty), false) = (certainty, any) {
        // A certainty alone is of all that is known.
        for mut found in sheet.stiffness.clone() {
            found.certainty = *certainty;
            stiffness::put(sheet, found);
        }
        sheet.stiffness_certainty = Some(*certainty);
    }
    Ok(())
}

/// Rigidities that were worked out with the sheet's own mass per area follow it; what was weighed with its strips stays.
pub(super) fn stiffness_by_mass(sheet: &mut Sheet, older: Option<Gsm>) -> Done<()> {
    let Some((was, now)) = older.zip(sheet.mass_gsm).filter(|(was, now)| was != now) else {
        return Ok(());
    };
    for mut found in sheet.stiffness.clone() {
        let Some(length) = found
            .bending_length_m
            .filter(|_| found.mass_gsm == Some(was))
        else {
            continue;
        };
        let rigidity = rigidity_from_bending_length(now.0, length.0)
            .map_err(|error| refuse("mass", &error))?;
        if rigidity == 0 {
            let detail = format!(
                "{now} g/m² make a rigidity {} of less than a nanonewton metre",
                found.grain
            );
            return Err(invalid("mass", detail));
        }
        found.rigidity_unm = decimal_unm(rigidity);
        found.mass_gsm = Some(now);
        stiffness::put(sheet, found);
    }
    Ok(())
}

fn found(
    sheet: &Sheet,
    grain: Grain,
    field: &str,
    text: &str,
    certainty: Certainty,
) -> Done<GrainStiffness> {
    let (reading, method) = parse_printed(text, None).map_err(|error| refuse(field, &error))?;
    let mut bent = None;
    let nnm = match reading {
        Reading::Rigidity(nnm) => nnm,
        Reading::BendingLength(length) => {
            let mass = sheet.mass_gsm.ok_or_else(|| {
                Problem::from(invalid(
                    field,
                    format!("a bending length of {text} needs the mass per area too"),
                ))
                .hint("give the mass, or the rigidity such as 11.4uNm")
            })?;
            bent = Some((Metres(length), mass));
            rigidity_from_bending_length(mass.0, length).map_err(|error| refuse(field, &error))?
        }
    };
    Ok(GrainStiffness {
        grain,
        rigidity_unm: decimal_unm(nnm),
        method: Some(method),
        certainty,
        date: None,
        readings: vec![vec![text.trim().to_owned()]],
        overhang_m: None,
        bending_length_m: bent.map(|(length, _)| length),
        mass_gsm: bent.map(|(_, mass)| mass),
        thickness_m: None,
        strip_length_m: None,
        strip_width_m: None,
        note: None,
    })
}
