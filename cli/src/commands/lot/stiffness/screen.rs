//! A lot's stiffness on the screen.

use crate::ui::{Shown, Table, Ui, paragraph};
use ellwand_contract::{
    Metres,
    stiffness::{DirectedStiffness, GrainStiffness, Stiffness},
};
use ellwand_domain::{
    setting::StiffnessWay,
    stiffness::{
        bending_length_from_rigidity, decimal_mm, from_decimal_unm, milligram_centimetres,
    },
};

/// Directions that are listed, in degrees.
const LISTED: u8 = 15;

/// The grains with their formulas, the sums, the directions between, and what turning changes.
pub(super) fn show(ui: &mut Ui<'_>, shown: Shown, answer: &Stiffness) {
    let mass = answer
        .mass_gsm
        .map(|mass| format!(", {}", shown.mass(mass)))
        .unwrap_or_default();
    ui.heading(format!(
        "{} {} ({}{mass})",
        answer.lot, answer.name, answer.kind
    ));
    if answer.grains.is_empty() {
        ui.notes(&answer.notes);
        ui.hint(format!(
            "lay a strip over an edge and measure: ellwand lot stiffness {} --lengthwise 62mm,60mm",
            answer.lot
        ));
        return;
    }
    ui.table(&grains(answer));
    for found in answer.grains.iter().filter(|found| found.note.is_some()) {
        let note = found.note.as_deref().unwrap_or_default();
        paragraph::show(ui, 0, &format!("{}: {note}", found.grain));
    }
    ui.blank();
    ui.heading("The working");
    for step in &answer.steps {
        paragraph::show(ui, 2, step);
    }
    if !answer.directions.is_empty() {
        ui.blank();
        ui.table(&directions(&answer.directions));
        if let Some(overall) = &answer.overall_unm {
            ui.line(format!(
                "overall {overall} µN·m, the root of lengthwise x crosswise"
            ));
        }
    }
    if !answer.turning.is_empty() {
        ui.blank();
        for line in &answer.turning {
            paragraph::show(ui, 0, line);
        }
    }
    ui.notes(&answer.notes);
}

fn grains(answer: &Stiffness) -> Table {
    let mut table =
        Table::headed("grain | >rigidity µN·m | >mg·cm | >bending length | found by | known | on");
    for found in &answer.grains {
        let nnm = from_decimal_unm(&found.rigidity_unm).ok();
        let milligrams = nnm
            .map(milligram_centimetres)
            .map(tenths)
            .unwrap_or_default();
        table.row([
            found.grain.to_string(),
            found.rigidity_unm.clone(),
            milligrams,
            bending_length(answer, found).unwrap_or_default(),
            found
                .method
                .map_or("not recorded".to_owned(), |method| method.to_string()),
            found.certainty.to_string(),
            found.date.map(|date| date.to_string()).unwrap_or_default(),
        ]);
    }
    table
}

/// `1600` tenths as `160.0`.
fn tenths(number: i64) -> String {
    format!("{}.{}", number.div_euclid(10), number.rem_euclid(10))
}

/// As it was found, else what the rigidity makes with the mass per area.
fn bending_length(answer: &Stiffness, found: &GrainStiffness) -> Option<String> {
    let computed = || {
        let nnm = from_decimal_unm(&found.rigidity_unm).ok()?;
        bending_length_from_rigidity(nnm, answer.mass_gsm?.0)
            .ok()
            .map(Metres)
    };
    let length = found.bending_length_m.or_else(computed)?;
    // Tenths of a millimetre are as fine as a ruler and a mean of strips go.
    let step = 100_i64;
    let rounded = length
        .get()
        .saturating_add(step / 2)
        .div_euclid(step)
        .saturating_mul(step);
    let rounded = ellwand_domain::quantity::Micrometres::new(rounded).ok()?;
    Some(format!("{} mm", decimal_mm(rounded)))
}

fn directions(all: &[DirectedStiffness]) -> Table {
    let mut table = Table::headed(">direction | >rigidity µN·m | in 8 cloths of 10 | how");
    for one in all.iter().filter(|one| one.degrees.is_multiple_of(LISTED)) {
        let name = match one.degrees {
            0 => "lengthwise 0°".to_owned(),
            45 => "bias 45°".to_owned(),
            90 => "crosswise 90°".to_owned(),
            degrees => format!("{degrees}°"),
        };
        let band = one.low_unm.as_ref().zip(one.high_unm.as_ref());
        table.row([
            name,
            one.rigidity_unm.clone(),
            band.map(|(low, high)| format!("{low} to {high}"))
                .unwrap_or_default(),
            match one.way {
                StiffnessWay::Tested => "as above",
                StiffnessWay::Peirce => "computed from both grains (Peirce)",
                StiffnessWay::Between => "computed from the bias and the nearer grain",
            }
            .to_owned(),
        ]);
    }
    table
}
