//! Thread is never taken in a colour that nobody named.

use super::{Question, Serving};
use crate::garments::need::same_colour;
use ellwand_domain::setting::Kind;

/// Which colours there are to choose from, where a need of thread names neither colour, material nor lot, and has none yet.
pub(super) fn undecided(asked: &Question<'_>, serve: &[Serving]) -> Option<String> {
    let &Question { need, open, .. } = asked;
    let conditions = &need.plan.conditions;
    let named = need.plan.colour().is_some()
        || conditions.material.is_some()
        || need.own_lot()
        || asked.filled.is_cut_into()
        || !asked.filled.active.is_empty();
    if need.row.kind != Kind::Thread || named || open < 1 {
        return None;
    }
    let colours = serve
        .iter()
        .filter_map(|serving| serving.shelved.record.sheet.colour.as_deref());
    let mut colours: Vec<&str> = colours.map(str::trim).collect();
    colours.sort_unstable();
    colours.dedup_by(|one, other| same_colour(one, other));
    (!colours.is_empty()).then(|| {
        format!(
            "the {} names no colour; what serves is {}",
            need.row.role,
            colours.join(", ")
        )
    })
}

/// What decides it.
pub(super) fn advice(asked: &Question<'_>, serve: &[Serving]) -> String {
    let colour = serve
        .iter()
        .find_map(|serving| serving.shelved.record.sheet.colour.as_deref());
    let code = ellwand_domain::code::GarmentCode::new(asked.garment.id);
    format!(
        "choose one: ellwand garment edit {code} --need 'role={},colour={}'",
        asked.need.row.role,
        colour.unwrap_or_default().trim()
    )
}
