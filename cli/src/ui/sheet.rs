//! A technical sheet, line by line; every number with how well it is known.

use super::{Shown, Table, left};
use ellwand_contract::sheets::Sheet;
use ellwand_domain::{quantity::Tex, setting::Grain};

/// A table of what the sheet says.
#[must_use]
pub fn table(shown: Shown, sheet: &Sheet) -> Table {
    let mut table = Table::new([left("sheet"), left(""), left("known")]);
    let known = sheet
        .certainty
        .map(|certainty| certainty.to_string())
        .unwrap_or_default();
    let mut add = |name: &str, value: Option<String>, known: &str| {
        if let Some(value) = value.filter(|value| !value.is_empty()) {
            table.row([name, &value, known]);
        }
    };
    let shares: Vec<String> = sheet
        .fibres
        .iter()
        .map(|f| format!("{} {}", f.share, f.fibre))
        .collect();
    add("fibres", Some(shares.join(", ")), "");
    add("construction", sheet.construction.clone(), "");
    add("colour", sheet.colour.clone(), "");
    add("mass", sheet.mass_gsm.map(|mass| shown.mass(mass)), &known);
    add(
        "full width",
        sheet.full_width_m.map(|width| shown.width(width)),
        &known,
    );
    add(
        "selvedges together",
        sheet.selvedges_m.map(|width| shown.width(width)),
        &known,
    );
    let shrinkage = sheet.shrinkage.as_ref().map(|shrinkage| {
        let width = shrinkage.width.as_ref().map_or_else(
            || "crosswise unknown".to_owned(),
            |w| format!("{w} crosswise"),
        );
        let preparation = shrinkage.preparation.as_deref().unwrap_or("washed");
        format!("{} lengthwise, {width}, {preparation}", shrinkage.length)
    });
    add("shrinkage", shrinkage, "stated");
    add(
        "one way",
        sheet
            .one_way
            .map(|one_way| if one_way { "yes" } else { "no" }.to_owned()),
        "",
    );
    add(
        "repeat",
        sheet.repeat_m.map(|repeat| shown.length(repeat)),
        "",
    );
    add("stretch crosswise", sheet.stretch.clone(), "");
    add(
        "fixing",
        sheet
            .fusible
            .map(|fusible| if fusible { "fusible" } else { "sewn-in" }.to_owned()),
        "",
    );
    let rigidities = [
        (
            Grain::Lengthwise,
            "rigidity lengthwise",
            &sheet.rigidity_lengthwise_unm,
        ),
        (
            Grain::Crosswise,
            "rigidity crosswise",
            &sheet.rigidity_crosswise_unm,
        ),
        (
            Grain::Bias,
            "rigidity on the bias",
            &sheet.rigidity_bias_unm,
        ),
    ];
    for (grain, name, rigidity) in rigidities {
        let found = sheet.stiffness.iter().find(|found| found.grain == grain);
        let known = found
            .map(|found| found.certainty)
            .or(sheet.stiffness_certainty);
        let known = known
            .map(|certainty| certainty.to_string())
            .unwrap_or_default();
        let text = rigidity.as_ref().map(|rigidity| {
            let method = found
                .and_then(|found| found.method)
                .map(|method| format!(" ({method})"));
            format!("{rigidity} uNm{}", method.unwrap_or_default())
        });
        add(name, text, &known);
    }
    let tex = sheet.tex.as_ref().map(|tex| format!("{tex} tex"));
    let yarn = match (&sheet.yarn_count, tex) {
        (Some(typed), Some(tex)) if typed.replace(' ', "") != tex.replace(' ', "") => {
            Some(format!("{typed} ({tex})"))
        }
        (typed, tex) => typed.clone().or(tex),
    };
    add("yarn count", yarn, "");
    add(
        "in every system",
        sheet.count().map(Tex::in_every_system),
        "",
    );
    add(
        "length of a full reel",
        sheet.reel_length_m.map(|length| shown.length(length)),
        "",
    );
    let tare = if sheet.full_width_m.is_some() {
        "empty core"
    } else {
        "empty reel"
    };
    add(
        tare,
        sheet.tare_g.as_ref().map(|tare| format!("{tare} g")),
        "",
    );
    let size = sheet.size.clone().map(|size| match sheet.size_m {
        Some(across) => format!("{size} ({})", shown.width(across)),
        None => size,
    });
    add("size", size, "");
    add("kept by", sheet.unit.map(|unit| unit.to_string()), "");
    add("note", sheet.note.clone(), "");
    table
}
