//! A technical sheet, line by line; every number with how well it is known.

use super::{Shown, Table};
use ellwand_contract::sheets::{Sheet, ShrinkageInput};
use ellwand_domain::{certainty::Certainty, quantity::Tex, setting::Grain};

/// A line: its name, the sheet's value, and how well that is known.
type Line = (&'static str, Option<String>, String);

/// A table of the sheet.
#[must_use]
pub fn table(shown: Shown, sheet: &Sheet) -> Table {
    let mut table = Table::headed("sheet |  | known");
    let lines = cloth(shown, sheet)
        .into_iter()
        .chain(rigidities(sheet))
        .chain(thread_and_trims(shown, sheet));
    for (name, value, known) in lines {
        if let Some(value) = value.filter(|value| !value.is_empty()) {
            table.row([name, &value, &known]);
        }
    }
    table
}

/// A line without a certainty.
fn line(name: &'static str, value: Option<String>) -> Line {
    (name, value, String::new())
}

fn certainty_label(certainty: Option<Certainty>) -> String {
    certainty.map_or_else(String::new, |certainty| certainty.to_string())
}

fn cloth(shown: Shown, sheet: &Sheet) -> [Line; 10] {
    let shares: Vec<String> = sheet
        .fibres
        .iter()
        .map(|of| format!("{} {}", of.share, of.fibre))
        .collect();
    let known = certainty_label(sheet.certainty);
    let width = |width| shown.width(width);
    let one_way = sheet
        .one_way
        .map(|one_way| if one_way { "yes" } else { "no" });

    [
        line("fibres", Some(shares.join(", "))),
        line("construction", sheet.construction.clone()),
        line("colour", sheet.colour.clone()),
        (
            "mass",
            sheet.mass_gsm.map(|mass| shown.mass(mass)),
            known.clone(),
        ),
        ("full width", sheet.full_width_m.map(width), known.clone()),
        ("selvedges together", sheet.selvedges_m.map(width), known),
        (
            "shrinkage",
            sheet.shrinkage.as_ref().map(shrinkage),
            "stated".to_owned(),
        ),
        line("one way", one_way.map(str::to_owned)),
        line("repeat", sheet.repeat_m.map(|repeat| shown.length(repeat))),
        line("stretch crosswise", sheet.stretch.clone()),
    ]
}

fn shrinkage(of: &ShrinkageInput) -> String {
    let width = match &of.width {
        Some(width) => format!("{width} crosswise"),
        None => "crosswise unknown".to_owned(),
    };
    let preparation = of.preparation.as_deref().unwrap_or("washed");
    format!("{} lengthwise, {width}, {preparation}", of.length)
}

fn rigidities(sheet: &Sheet) -> impl Iterator<Item = Line> {
    let fixing = sheet
        .fusible
        .map(|fusible| if fusible { "fusible" } else { "sewn-in" });
    let along = |grain, name, rigidity: &Option<String>| {
        let found = sheet.stiffness.iter().find(|found| found.grain == grain);
        let known = found.map(|found| found.certainty);
        let method = found.and_then(|found| found.method);
        let method = method.map_or_else(String::new, |method| format!(" ({method})"));
        let text = rigidity
            .as_ref()
            .map(|rigidity| format!("{rigidity} uNm{method}"));
        (
            name,
            text,
            certainty_label(known.or(sheet.stiffness_certainty)),
        )
    };
    [
        line("fixing", fixing.map(str::to_owned)),
        along(
            Grain::Lengthwise,
            "rigidity lengthwise",
            &sheet.rigidity_lengthwise_unm,
        ),
        along(
            Grain::Crosswise,
            "rigidity crosswise",
            &sheet.rigidity_crosswise_unm,
        ),
        along(
            Grain::Bias,
            "rigidity on the bias",
            &sheet.rigidity_bias_unm,
        ),
    ]
    .into_iter()
}

fn thread_and_trims(shown: Shown, sheet: &Sheet) -> [Line; 7] {
    let tex = sheet.tex.as_ref().map(|tex| format!("{tex} tex"));
    let yarn = match (&sheet.yarn_count, tex) {
        (Some(typed), Some(tex)) if typed.replace(' ', "") != tex.replace(' ', "") => {
            Some(format!("{typed} ({tex})"))
        }
        (typed, tex) => typed.clone().or(tex),
    };
    let reel = sheet.reel_length_m.map(|length| shown.length(length));
    let tare = if sheet.full_width_m.is_some() {
        "empty core"
    } else {
        "empty reel"
    };
    let size = sheet.size.clone().map(|size| match sheet.size_m {
        Some(across) => format!("{size} ({})", shown.width(across)),
        None => size,
    });
    [
        line("yarn count", yarn),
        line("in every system", sheet.count().map(Tex::in_every_system)),
        line("length of a full reel", reel),
        line(tare, sheet.tare_g.as_ref().map(|tare| format!("{tare} g"))),
        line("size", size),
        line("kept by", sheet.unit.map(|unit| unit.to_string())),
        line("note", sheet.note.clone()),
    ]
}
