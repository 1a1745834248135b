//! What turning a part on the cloth would make of its stiffness.

use super::Known;
use crate::garments::need::{Along, NeedRecord};
use ellwand_contract::sheets::Sheet;
use ellwand_domain::{
    setting::{Grain, StiffnessWay},
    stiffness::{Directed, Factor, decimal_unm},
};

/// What lies across a part whose long side runs along a grain; the other bias is taken to be like the one.
const fn across(grain: Grain) -> Grain {
    match grain {
        Grain::Lengthwise => Grain::Crosswise,
        Grain::Crosswise => Grain::Lengthwise,
        Grain::Bias => Grain::Bias,
    }
}

/// How stiff the parts of a need will be, grain by grain.
pub(crate) fn along_need(sheet: &Sheet, need: &NeedRecord) -> Vec<String> {
    let of = |along: Along| {
        along_part(sheet, along.grain)
            .into_iter()
            .map(move |note| format!("{}{note}", along.of))
    };
    need.grains().into_iter().flat_map(of).collect()
}

/// How stiff a part will be along and across its long side, and what turning it would change. Never assumed.
pub(super) fn along_part(sheet: &Sheet, grain: Option<Grain>) -> Vec<String> {
    let known = Known::of(sheet);
    let Some(grain) = grain else {
        if known.is_unknown() {
            return Vec::new();
        }
        return vec![
            "the need gives no grain along the part, so its stiffness is unknown: set grain in the need"
                .to_owned(),
        ];
    };
    let Some(along) = known.along(grain) else {
        return vec![match grain {
            Grain::Bias => "stiffness on the bias is unknown: measure a bias strip".to_owned(),
            grain => format!("stiffness {grain} is unknown: measure a strip"),
        }];
    };
    let certainty = match along.way {
        StiffnessWay::Tested => sheet
            .stiffness_certainty
            .map_or(String::new(), |certainty| format!(", {certainty}")),
        StiffnessWay::Peirce | StiffnessWay::Between => String::new(),
    };
    let mut notes = vec![if grain == Grain::Bias {
        let measure = match along.way {
            StiffnessWay::Peirce => ": measure a bias strip when it matters",
            StiffnessWay::Tested | StiffnessWay::Between => "",
        };
        format!(
            "stiffness along the part and across it {}{certainty}{measure}",
            rigidity_text(along)
        )
    } else {
        let other = known
            .along(across(grain))
            .map_or("unknown".to_owned(), rigidity_text);
        format!(
            "stiffness along the part {}, across it {other}{certainty}",
            rigidity_text(along)
        )
    }];
    notes.extend(turned(known, grain));
    notes
}

/// For each grain that is known: along, across, and what turning would change.
pub(crate) fn of_lot(known: Known) -> Vec<String> {
    let line = |grain: Grain| {
        let along = known.along(grain)?;
        let turned = turned(known, grain).map_or(String::new(), |turned| format!("; {turned}"));
        Some(format!(
            "a part with its long side {}: {} along it{turned}",
            on(grain),
            rigidity_text(along)
        ))
    };
    [Grain::Lengthwise, Grain::Crosswise, Grain::Bias]
        .into_iter()
        .filter_map(line)
        .collect()
}

/// `turned by 90° 15.6 times as stiff along, on the bias 2.55 times (1.40 to 6.04)`.
fn turned(known: Known, grain: Grain) -> Option<String> {
    let along = known.along(grain)?;
    let others = match grain {
        Grain::Lengthwise => [Grain::Crosswise, Grain::Bias],
        Grain::Crosswise => [Grain::Lengthwise, Grain::Bias],
        Grain::Bias => [Grain::Lengthwise, Grain::Crosswise],
    };
    let parts: Vec<String> = others
        .into_iter()
        .filter_map(|other| {
            let to = known.along(other)?;
            let factor = factors(along, to)?;
            let turn = if grain == Grain::Bias || other == Grain::Bias {
                on(other)
            } else {
                "by 90°"
            };
            Some(format!("{turn} {factor}"))
        })
        .collect();
    (!parts.is_empty()).then(|| format!("turned {} as stiff along it", parts.join(", ")))
}

/// `2.55 times (1.40 to 6.04, computed)`; the band of whichever side is computed.
fn factors(from: Directed, to: Directed) -> Option<String> {
    let factor = Factor::new(from.rigidity_nnm, to.rigidity_nnm)?;
    let (least, most) = match (from.band_nnm, to.band_nnm) {
        (None, None) => return Some(format!("{factor} times")),
        (_, Some((low, high))) => (
            Factor::new(from.rigidity_nnm, low)?,
            Factor::new(from.rigidity_nnm, high)?,
        ),
        (Some((low, high)), None) => (
            Factor::new(high, to.rigidity_nnm)?,
            Factor::new(low, to.rigidity_nnm)?,
        ),
    };
    Some(format!("{factor} times ({least} to {most}, computed)"))
}

/// `on the bias`: a grain as it stands in a sentence.
pub(crate) const fn on(grain: Grain) -> &'static str {
    match grain {
        Grain::Lengthwise => "lengthwise",
        Grain::Crosswise => "crosswise",
        Grain::Bias => "on the bias",
    }
}

/// `11.438 µN·m`, and the band of a computed one.
pub(super) fn rigidity_text(directed: Directed) -> String {
    let figure = decimal_unm(directed.rigidity_nnm);
    match directed.band_nnm {
        Some((low, high)) => {
            format!(
                "{figure} µN·m (computed; {} to {} in 8 cloths of 10)",
                decimal_unm(low),
                decimal_unm(high)
            )
        }
        None => format!("{figure} µN·m"),
    }
}
