//! How stiff a lot is along each grain: strip tests, other directions, and what turning a part would change.

mod costed;
mod layers;
mod show;
mod test;
mod turning;

pub(crate) use costed::of_garment as on_cost_sheet;
pub(crate) use layers::{Shell, notes as layer_notes, shell_of};
pub(crate) use turning::{along_need, of_lot as turning_of_lot, on};

use ellwand_contract::{sheets::Sheet, stiffness::GrainStiffness};
use ellwand_domain::{
    setting::Grain,
    stiffness::{Degrees, Directed, Grains, from_decimal_unm},
};

/// What a sheet says, grain by grain; nanonewton metres.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Known {
    pub(crate) lengthwise: Option<i64>,
    pub(crate) crosswise: Option<i64>,
    pub(crate) bias: Option<i64>,
}

impl Known {
    pub(crate) fn of(sheet: &Sheet) -> Self {
        let read = |text: &Option<String>| {
            text.as_deref()
                .and_then(|text| from_decimal_unm(text).ok())
                .filter(|nnm| *nnm > 0)
        };
        Self {
            lengthwise: read(&sheet.rigidity_lengthwise_unm),
            crosswise: read(&sheet.rigidity_crosswise_unm),
            bias: read(&sheet.rigidity_bias_unm),
        }
    }

    pub(crate) const fn is_unknown(self) -> bool {
        self.lengthwise.is_none() && self.crosswise.is_none() && self.bias.is_none()
    }

    /// All directions, once both grains are known.
    pub(crate) fn grains(self) -> Option<Grains> {
        let (lengthwise, crosswise) = self.lengthwise.zip(self.crosswise)?;
        Some(Grains {
            lengthwise,
            crosswise,
            bias: self.bias,
        })
    }

    /// Along a grain: tested, or on the bias computed from the other two.
    pub(crate) fn along(self, grain: Grain) -> Option<Directed> {
        let tested = match grain {
            Grain::Lengthwise => self.lengthwise,
            Grain::Crosswise => self.crosswise,
            Grain::Bias => self.bias,
        };
        match tested {
            Some(rigidity_nnm) => Some(Directed {
                rigidity_nnm,
                band_nnm: None,
                way: ellwand_domain::setting::StiffnessWay::Tested,
            }),
            None if grain == Grain::Bias => self.grains()?.at(Degrees::BIAS).ok(),
            None => None,
        }
    }
}

/// Puts what was found along one grain in the place of what was known.
pub(crate) fn put(sheet: &mut Sheet, found: GrainStiffness) {
    let kept = match found.grain {
        Grain::Lengthwise => &mut sheet.rigidity_lengthwise_unm,
        Grain::Crosswise => &mut sheet.rigidity_crosswise_unm,
        Grain::Bias => &mut sheet.rigidity_bias_unm,
    };
    *kept = Some(found.rigidity_unm.clone());
    sheet.stiffness.retain(|known| known.grain != found.grain);
    sheet.stiffness.push(found);
    sheet.stiffness.sort_by_key(|known| known.grain);
    sheet.stiffness_certainty = sheet.stiffness.iter().map(|known| known.certainty).max();
}
