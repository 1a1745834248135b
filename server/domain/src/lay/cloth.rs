//! The cloth of a lay, and what may lie on it how.

use super::{Outline, Turn, outline::MOST_REACH};
use crate::{quantity::Micrometres, setting::Grain};
use serde::{Deserialize, Serialize};

/// Widest gap that is kept between parts.
pub(super) const MOST_SPACING: Micrometres = Micrometres::from_mm(1_000);

/// Which ways of the cloth are alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum Ways {
    /// Nap, pile or a one-way print: no part lies upside down beside another.
    One,
    /// Parts may lie upside down.
    Two,
}

impl Ways {
    /// Directions in which a part of a grain may lie.
    ///
    /// - Two-way cloth: both ways along its grain; on the bias along either diagonal.
    /// - One-way cloth: of each direction and its half turn only the one that runs with the cloth, on the bias 45° and 315°, so that
    ///   a left and a right part can mirror one another; across the cloth 90° alone.
    /// - Source: nap and one-way prints are cut one way (crafttown.jp); true bias is 45° to both grains.
    #[must_use]
    pub const fn turns(self, grain: Grain) -> &'static [Turn] {
        const fn all<const N: usize>(degrees: [u16; N]) -> [Turn; N] {
            let mut turns = [Turn::NONE; N];
            let mut at = 0;
            while at < N {
                turns[at] = Turn::degrees(degrees[at]);
                at += 1;
            }
            turns
        }
        const ALONG: &[Turn] = &all([0, 180]);
        const ACROSS: &[Turn] = &all([90, 270]);
        const BIAS: &[Turn] = &all([45, 315, 135, 225]);
        match (self, grain) {
            (Self::Two, Grain::Lengthwise) => ALONG,
            (Self::Two, Grain::Crosswise) => ACROSS,
            (Self::Two, Grain::Bias) => BIAS,
            (Self::One, Grain::Lengthwise) => ALONG.split_at(1).0,
            (Self::One, Grain::Crosswise) => ACROSS.split_at(1).0,
            (Self::One, Grain::Bias) => BIAS.split_at(2).0,
        }
    }
}

/// Cloth that parts are laid on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct LayCloth {
    /// Usable width when it is cut.
    pub usable: Micrometres,
    /// Where it ends; as long as the lay takes, where that is not said.
    pub length: Option<Micrometres>,
    /// Least gap between parts, for chalk and shears.
    pub spacing: Micrometres,
    /// Whether parts may lie upside down.
    pub ways: Ways,
}

impl LayCloth {
    /// True within the limits that the products of the check are sized for.
    pub(super) fn is_sensible(&self) -> bool {
        !self.usable.is_zero() && self.usable <= MOST_REACH && self.spacing <= MOST_SPACING
    }
}

/// A part to be laid.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LayPart {
    /// What it is called.
    pub name: String,
    /// Its grain along the warp.
    pub outline: Outline,
    /// How often it is cut.
    pub count: i64,
    /// How its length lies on the cloth.
    pub grain: Grain,
    /// True where it may lie face down.
    pub may_flip: bool,
}
