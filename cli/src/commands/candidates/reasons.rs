//! Why pieces do not suit a need: each by itself, or a line for each kind of reason.

use crate::ui::{Table, Ui, paragraph};
use ellwand_contract::garments::{CannotServe, NeedCandidates};
use ellwand_domain::setting::WhyNot;
use std::collections::BTreeMap;

/// Each piece with its reason.
pub(super) fn each(need: &NeedCandidates) -> Table {
    let mut table = Table::headed("unsuitable | material | why");
    for piece in &need.cannot {
        table.row([
            piece.piece.to_string(),
            piece.name.clone(),
            piece.reason.clone(),
        ]);
    }
    table
}

/// A line for each kind of reason.
pub(super) fn by_kind(ui: &mut Ui<'_>, cannot: &[CannotServe]) {
    for line in kinds(cannot) {
        paragraph::show(ui, 0, &line);
    }
}

/// Each kind of reason, the most frequent first: `14 are another material`, and one example where figures matter.
pub(in crate::commands) fn kinds(cannot: &[CannotServe]) -> Vec<String> {
    let mut kinds: BTreeMap<WhyNot, Vec<&CannotServe>> = BTreeMap::new();
    for piece in cannot {
        kinds.entry(piece.why).or_default().push(piece);
    }
    let mut kinds: Vec<(WhyNot, Vec<&CannotServe>)> = kinds.into_iter().collect();
    kinds.sort_by_key(|(_, pieces)| std::cmp::Reverse(pieces.len()));
    let lines = kinds.into_iter().filter_map(|(why, pieces)| {
        let first = pieces.first()?;
        let example = format!("{} {}", first.piece, first.name);
        Some(match (phrase(why), pieces.len()) {
            (_, 1) => format!("{example}: {}", first.reason),
            ((plural, false), count) => format!("{count} {plural}"),
            ((plural, true), count) => {
                format!("{count} {plural}, such as {example}: {}", first.reason)
            }
        })
    });
    lines.collect()
}

/// What is true of several pieces, and whether an example says more.
const fn phrase(why: WhyNot) -> (&'static str, bool) {
    match why {
        WhyNot::Other => ("do not suit it", true),
        WhyNot::Material => ("are another material", false),
        WhyNot::Lot => ("are of another lot", true),
        WhyNot::Owner => ("belong to customers", false),
        WhyNot::Fibre => ("are of another fibre", false),
        WhyNot::Size => ("have another size", true),
        WhyNot::Colour => ("have another colour", false),
        WhyNot::Stiffness => ("are too stiff, too soft, or to be fastened otherwise", true),
        WhyNot::Mass => ("are too heavy or too light", true),
        WhyNot::Preparation => ("were prepared otherwise", true),
        WhyNot::Narrow => ("are too narrow", true),
        WhyNot::Short => ("are too short", true),
        WhyNot::Unknown => ("lack a figure", true),
    }
}
