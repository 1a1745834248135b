//! Cautions: where work can hurt someone, in neutral words. Never a verdict.

use crate::shelf::shelved::LotRecord;
use ellwand_contract::sheets::Sheet;
use ellwand_domain::{cloth::fibre, setting::Kind};

/// Words of a name that tell a child's garment.
const CHILD: &[&str] = &[
    "baby",
    "babies",
    "boy",
    "boys",
    "child",
    "childs",
    "children",
    "childrens",
    "girl",
    "girls",
    "infant",
    "infants",
    "junior",
    "kid",
    "kids",
    "newborn",
    "nursery",
    "romper",
    "rompers",
    "toddler",
    "toddlers",
];

/// Words of a construction that tell a raised surface.
const RAISED: &[&str] = &[
    "brushed",
    "chenille",
    "corduroy",
    "flannel",
    "flannelette",
    "fleece",
    "moleskin",
    "napped",
    "plush",
    "raised",
    "terry",
    "velour",
    "velvet",
    "velveteen",
];

/// Cellulose: fibres that burn like cotton.
const CELLULOSE: &[&str] = &[
    "cotton", "flax", "viscose", "modal", "lyocell", "cupro", "hemp", "ramie", "jute", "kapok",
    "paper",
];

/// 88.2 g/m² (2.6 oz/yd²): plain cloth of this mass or more needs no test there (16 CFR 1610.1(d)).
const LIGHT_BELOW_MG_M2: i64 = 88_200;

/// Cautions for a garment of this name made of these lots; at most one of each.
pub(super) fn of<'a>(name: &str, lots: impl IntoIterator<Item = &'a LotRecord>) -> Vec<String> {
    let mut cautions = Vec::new();
    if words(name)
        .iter()
        .any(|word| CHILD.contains(&word.as_str()))
    {
        cautions.push(
            "children's wear: cords, small parts and night clothes have legal limits; ask a test house or \
             trading-standards office (for planning only)"
                .to_owned(),
        );
    }
    // Interlining stands outside the rule.
    let worn = |lot: &&LotRecord| matches!(lot.kind(), Kind::Cloth | Kind::Lining);
    let fast = lots
        .into_iter()
        .filter(worn)
        .filter(|lot| burns_fast(&lot.sheet));
    let fast: Vec<String> = fast
        .map(|lot| format!("{} {}", lot.code(), lot.material.name))
        .collect();
    if !fast.is_empty() {
        cautions.push(format!(
            "light or fluffy cellulose cloth burns fast ({}); this tool cannot classify it, a laboratory can (for \
             planning only)",
            fast.join(", ")
        ));
    }
    cautions
}

fn burns_fast(sheet: &Sheet) -> bool {
    let cellulose = sheet.fibres.iter().any(|share| {
        fibre::find(&share.fibre).is_some_and(|fibre| CELLULOSE.contains(&fibre.name))
    });
    let light = sheet
        .mass_gsm
        .is_some_and(|mass| mass.get() < LIGHT_BELOW_MG_M2);
    let raised = sheet.construction.as_deref().is_some_and(|text| {
        words(text)
            .iter()
            .any(|word| RAISED.contains(&word.as_str()))
    });
    cellulose && (light || raised)
}

fn words(text: &str) -> Vec<String> {
    let plain = text.to_lowercase().replace(['\'', '’'], "");
    plain
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}
