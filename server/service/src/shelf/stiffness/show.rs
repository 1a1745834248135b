//! How stiff a lot is, as it is shown.

use super::{Known, turning};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        perform::Perform,
        version,
    },
    shelf::shelved::LotRecord,
};
use ellwand_contract::{
    Problem, ProblemType,
    stiffness::{DirectedStiffness, GetStiffness, GrainStiffness, Stiffness},
};
use ellwand_domain::{
    quantity::Micrometres,
    setting::{Grain, StiffnessMethod, StiffnessWay},
    stiffness::{
        BIAS_BAND_HUNDREDTHS, Degrees, Grains, bending_modulus_kpa, decimal_mm, decimal_unm,
        from_decimal_unm,
    },
};
use ellwand_storage::{Subject, Tx};

/// Directions that are listed, in degrees.
const STEP: usize = 5;

impl Perform for GetStiffness {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Stiffness, Failure> {
        let record = LotRecord::load(desk, self.lot.get())?;
        if !record.kind().is_rectangle() {
            let detail = format!(
                "{} is {}: only cloth and interlining bend along a grain",
                self.lot,
                record.kind()
            );
            return Err(crate::desk::failure::invalid("lot", detail));
        }
        view(desk, &record)
    }
}

/// A lot's stiffness by direction.
pub(super) fn view(tx: &mut Tx<'_>, record: &LotRecord) -> Done<Stiffness> {
    let grains = record.sheet.stiffness.clone();
    let known = Known::of(&record.sheet);
    let whole = known.grains();
    Ok(Stiffness {
        lot: record.code(),
        name: record.material.name.clone(),
        kind: record.kind(),
        mass_gsm: record.sheet.mass_gsm,
        steps: grains.iter().flat_map(steps).collect(),
        overall_unm: whole.map(|grains| decimal_unm(grains.overall())),
        directions: match whole {
            Some(grains) => directions(grains)?,
            None => Vec::new(),
        },
        turning: turning::of_lot(known),
        notes: notes(record, known, &grains),
        version: version::of(tx, Subject::Lot, record.lot.id)?,
        grains,
    })
}

fn directions(grains: Grains) -> Done<Vec<DirectedStiffness>> {
    let mut all = Vec::new();
    for degrees in (0..=90_u8).step_by(STEP) {
        let direction = Degrees::new(degrees).ok_or_else(|| {
            Problem::new(
                ProblemType::Internal,
                format!("{degrees} degrees are no direction"),
            )
        })?;
        let at = grains.at(direction)?;
        all.push(DirectedStiffness {
            degrees,
            rigidity_unm: decimal_unm(at.rigidity_nnm),
            low_unm: at.band_nnm.map(|(low, _)| decimal_unm(low)),
            high_unm: at.band_nnm.map(|(_, high)| decimal_unm(high)),
            way: at.way,
        });
    }
    Ok(all)
}

/// The sum behind one rigidity.
fn steps(found: &GrainStiffness) -> Vec<String> {
    let grain = found.grain;
    let mut steps = Vec::new();
    if let Some(overhang) = found.overhang_m {
        let strips = found.readings.len();
        let sides = side_means(found).map_or_else(String::new, |sides| format!(" ({sides})"));
        let strips_text = if strips == 1 {
            "1 strip".to_owned()
        } else {
            format!("{strips} strips")
        };
        steps.push(format!(
            "{grain}: {strips_text}, mean overhang {} mm{sides}",
            decimal_mm(overhang.0)
        ));
    }
    match (found.bending_length_m, found.mass_gsm, found.method) {
        (Some(length), Some(mass), _) => {
            let half = if found.overhang_m.is_some() {
                ", half the overhang"
            } else {
                ""
            };
            let length = decimal_mm(length.0);
            steps.push(format!("{grain}: bending length {length} mm{half}"));
            steps.push(format!(
                "{grain}: rigidity = {mass} g/m² × 9.80665 m/s² × ({length} mm)³ = {} µN·m",
                found.rigidity_unm
            ));
        }
        (_, _, Some(method)) => {
            let typed = found
                .readings
                .iter()
                .flatten()
                .next()
                .cloned()
                .unwrap_or_default();
            steps.push(format!(
                "{grain}: {typed}, {} = {} µN·m",
                method.formula(),
                found.rigidity_unm
            ));
        }
        (_, _, None) => steps.push(format!(
            "{grain}: {} µN·m, the formula was not kept",
            found.rigidity_unm
        )),
    }
    if let Some(thickness) = found.thickness_m
        && let Ok(nnm) = from_decimal_unm(&found.rigidity_unm)
        && let Ok(modulus) = bending_modulus_kpa(nnm, thickness.0)
    {
        let thick = decimal_mm(thickness.0);
        steps.push(format!(
            "{grain}: bending modulus 12 × rigidity ÷ ({thick} mm)³ = {modulus} kPa"
        ));
    }
    steps
}

/// `face up 62 mm, face down 60 mm`, where each strip was read on both sides.
fn side_means(found: &GrainStiffness) -> Option<String> {
    let read: Option<Vec<Vec<Micrometres>>> = found
        .readings
        .iter()
        .map(|one| one.iter().map(|text| text.parse().ok()).collect())
        .collect();
    let strips = ellwand_domain::stiffness::Strips::new(read?, found.strip_length_m?.0).ok()?;
    if strips.readings().first()?.len() != 2 {
        return None;
    }
    let (up, down) = (strips.mean_of_reading(0)?, strips.mean_of_reading(1)?);
    Some(format!(
        "face up {} mm, face down {} mm",
        decimal_mm(up),
        decimal_mm(down)
    ))
}

fn notes(record: &LotRecord, known: Known, found: &[GrainStiffness]) -> Vec<String> {
    let mut notes = Vec::new();
    let code = record.code();
    let missing = |grain: Grain| {
        format!("{grain} is unknown, and which grain is the stiff one is never assumed")
    };
    if known.is_unknown() {
        notes.push(format!(
            "nothing is known of the stiffness of {code}: test strips of it"
        ));
        return notes;
    }
    notes.extend(
        known
            .lengthwise
            .is_none()
            .then(|| missing(Grain::Lengthwise)),
    );
    notes.extend(known.crosswise.is_none().then(|| missing(Grain::Crosswise)));
    if let Some(bias) = known
        .along(Grain::Bias)
        .filter(|bias| bias.way == StiffnessWay::Peirce)
    {
        let (low, high) = BIAS_BAND_HUNDREDTHS;
        let share = |hundredths: i64| decimal_share(hundredths);
        notes.push(format!(
            "the bias is computed, {} µN·m: in 8 cloths of 10 a strip shows {} to {} times that; test one when it matters",
            decimal_unm(bias.rigidity_nnm),
            share(low),
            share(high)
        ));
    }
    if found
        .iter()
        .any(|one| one.method == Some(StiffnessMethod::HalfOverhang))
    {
        notes.push(
            "half the overhang is the accepted rule: it understates the bending length by 1.8 %, the rigidity by 5.4 %"
                .to_owned(),
        );
    }
    if found
        .iter()
        .any(|one| one.method == Some(StiffnessMethod::AstmD1388))
    {
        notes.push(
            "a rigidity by the SI constant of ASTM D1388 is 1.449 times the physical one: it was put right"
                .to_owned(),
        );
    }
    if let Some(first) = found.first()
        && found
            .iter()
            .any(|one| one.mass_gsm.is_some() && one.mass_gsm != first.mass_gsm)
    {
        notes.push("the grains were worked out with different masses per area".to_owned());
    }
    if record.sheet.fusible == Some(true) {
        notes.push(
            "a fusible is stiffer once it is fused: test strips of it on the cloth for that"
                .to_owned(),
        );
    }
    notes
}

/// Hundredths: `0.55`.
fn decimal_share(hundredths: i64) -> String {
    decimal_unm(hundredths.saturating_mul(10))
}
