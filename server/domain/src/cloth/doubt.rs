//! Figures of cloth that need confirmation: more loss or growth than cloth shows.

use crate::{
    quantity::{Micrometres, PARTS_PER_MILLION, PartsPerMillion, Units, exact, print},
    shrinkage::{Direction, Ratio},
};
use std::fmt;

/// Loss lengthwise that is believed without a question: 20 % (common practice).
const LOSS_LENGTHWISE: PartsPerMillion = PartsPerMillion::from_percent(20);
/// Loss crosswise that is believed: 10 % (common practice).
const LOSS_CROSSWISE: PartsPerMillion = PartsPerMillion::from_percent(10);
/// Growth of marks on a swatch, or as a seller states it, that is believed: 20 %.
const GROWTH_OF_MARKS: PartsPerMillion = PartsPerMillion::from_percent(20);
/// Growth of a piece that is believed: 5 %. It is measured as a whole, so that a slip of the ruler weighs less.
const GROWTH_OF_PIECE: PartsPerMillion = PartsPerMillion::from_percent(5);
/// Width above the lot's that is believed: 2 % (common practice).
const ABOVE_LOT: PartsPerMillion = PartsPerMillion::from_percent(2);

/// How far a growth may be from an expected loss and still be a slip of the tape: 1 % of the length (common practice).
const SLIP: PartsPerMillion = PartsPerMillion::from_percent(1);

/// Full widths that are believed: from 2 cm, a tape, to 4 m (common practice).
const USUAL_WIDTHS: [Micrometres; 2] = [Micrometres::from_mm(20), Micrometres::from_mm(4_000)];

/// Stated figures of cloth, each direction where it is known.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct ClothFinding {
    /// Length before to length after.
    pub lengthwise: Option<Ratio>,
    /// Width before to width after.
    pub crosswise: Option<Ratio>,
    /// What the book expects lengthwise: as much is no doubt.
    pub expected_lengthwise: Option<Ratio>,
    /// What the book expects crosswise.
    pub expected_crosswise: Option<Ratio>,
    /// Of a piece: its lot's full width to its own. Marks and statements have none.
    pub beside_lot: Option<Ratio>,
}

/// Why a figure of cloth needs confirmation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClothDoubt {
    /// More is lost than cloth loses.
    Loss {
        /// The direction.
        direction: Direction,
        /// Share of the length before that is lost, rounded up.
        share: PartsPerMillion,
        /// Share that is believed.
        usual: PartsPerMillion,
    },
    /// It grew more than cloth grows.
    Growth {
        /// The direction.
        direction: Direction,
        /// Share of the length before that it grew, rounded up.
        share: PartsPerMillion,
        /// Share that is believed.
        usual: PartsPerMillion,
    },
    /// It grew where it was expected to shrink.
    GrowthForLoss {
        /// The direction.
        direction: Direction,
        /// Share of the length before that it grew, rounded up.
        share: PartsPerMillion,
        /// Share of the length before that was expected to be lost, rounded up.
        expected: PartsPerMillion,
    },
    /// A full width that cloth is not made in.
    Width {
        /// The width.
        full: Micrometres,
    },
    /// The piece is wider than the lot it came from.
    WiderThanLot {
        /// Share of the lot's width above it, rounded up.
        share: PartsPerMillion,
        /// Share that is believed.
        usual: PartsPerMillion,
    },
}

impl ClothDoubt {
    /// Doubt about the full width of cloth, as it is stated.
    #[must_use]
    pub fn of_full_width(full: Micrometres) -> Option<Self> {
        let [least, most] = USUAL_WIDTHS;
        (full < least || full > most).then_some(Self::Width { full })
    }

    /// The direction it is about.
    #[must_use]
    pub const fn direction(self) -> Direction {
        match self {
            Self::Loss { direction, .. }
            | Self::Growth { direction, .. }
            | Self::GrowthForLoss { direction, .. } => direction,
            Self::Width { .. } | Self::WiderThanLot { .. } => Direction::Crosswise,
        }
    }
}

impl fmt::Display for ClothDoubt {
    /// `a loss of 99.8 % lengthwise (20 % at most is usual)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Loss {
                direction,
                share,
                usual,
            } => {
                write!(
                    f,
                    "a loss of {} {direction} ({usual} at most is usual)",
                    tenths(*share)
                )
            }
            Self::Growth {
                direction,
                share,
                usual,
            } => {
                write!(
                    f,
                    "a growth of {} {direction} ({usual} at most is usual)",
                    tenths(*share)
                )
            }
            Self::GrowthForLoss {
                direction,
                share,
                expected,
            } => {
                write!(
                    f,
                    "a growth of {} {direction}, where a loss of {} was expected",
                    tenths(*share),
                    tenths(*expected)
                )
            }
            Self::Width { full } => {
                let [least, most] = USUAL_WIDTHS.map(|width| width.show_width(Units::Metric));
                let full = full.show_width(Units::Metric);
                write!(f, "a full width of {full} ({least} to {most} is usual)")
            }
            Self::WiderThanLot { share, usual } => {
                write!(
                    f,
                    "a width {} above its lot's ({usual} at most is usual)",
                    tenths(*share)
                )
            }
        }
    }
}

/// To one decimal, rounded up, so that what is above a limit is shown above it.
fn tenths(share: PartsPerMillion) -> String {
    let tenths = exact::div_ceil(i128::from(share.get()), 1_000);
    format!(
        "{} %",
        print::decimal(i64::try_from(tenths).unwrap_or(i64::MAX), 1, 0)
    )
}

impl ClothFinding {
    /// Doubts about marks on a swatch, or about a shrinkage as it is stated.
    #[must_use]
    pub fn doubts_of_marks(&self) -> Vec<ClothDoubt> {
        self.doubts(GROWTH_OF_MARKS)
    }

    /// Doubts about a piece that was measured.
    ///
    /// ```
    /// use ellwand_domain::{cloth::ClothFinding, shrinkage::Ratio};
    /// // 4 m became 1 cm, and 150 cm became 5 m.
    /// let found = ClothFinding {
    ///     lengthwise: Ratio::new(400, 1).ok(),
    ///     crosswise: Ratio::new(150, 500).ok(),
    ///     beside_lot: Ratio::new(150, 500).ok(),
    ///     ..ClothFinding::default()
    /// };
    /// let doubts: Vec<String> = found.doubts_of_piece().iter().map(ToString::to_string).collect();
    /// assert_eq!(doubts[0], "a loss of 99.8 % lengthwise (20 % at most is usual)");
    /// assert_eq!(doubts[1], "a width 233.4 % above its lot's (2 % at most is usual)");
    /// ```
    #[must_use]
    pub fn doubts_of_piece(&self) -> Vec<ClothDoubt> {
        self.doubts(GROWTH_OF_PIECE)
    }

    fn doubts(&self, growth: PartsPerMillion) -> Vec<ClothDoubt> {
        let wider = self
            .beside_lot
            .filter(|ratio| has_grown_beyond(*ratio, ABOVE_LOT));
        let wider = wider.map(|ratio| ClothDoubt::WiderThanLot {
            share: grown(ratio),
            usual: ABOVE_LOT,
        });
        let along =
            |direction, ratio: Option<Ratio>, expected: Option<Ratio>, loss: PartsPerMillion| {
                ratio.and_then(|ratio| doubt(direction, ratio, expected, (loss, growth)))
            };
        let lengthwise = along(
            Direction::Lengthwise,
            self.lengthwise,
            self.expected_lengthwise,
            LOSS_LENGTHWISE,
        );
        let crosswise = along(
            Direction::Crosswise,
            self.crosswise,
            self.expected_crosswise,
            LOSS_CROSSWISE,
        );
        // A piece that is wider than its lot grew, too: one of them says it.
        let grew = |doubt: &ClothDoubt| {
            matches!(
                doubt,
                ClothDoubt::Growth { .. } | ClothDoubt::GrowthForLoss { .. }
            )
        };
        let crosswise = crosswise.filter(|doubt| wider.is_none() || !grew(doubt));
        lengthwise
            .into_iter()
            .chain(crosswise)
            .chain(wider)
            .collect()
    }
}

/// The doubt about one direction; what was expected of it widens what is believed.
fn doubt(
    direction: Direction,
    ratio: Ratio,
    expected: Option<Ratio>,
    (loss, growth): (PartsPerMillion, PartsPerMillion),
) -> Option<ClothDoubt> {
    let lost = expected.map_or(PartsPerMillion::ZERO, Ratio::shrinkage_ppm);
    let apart = grown(ratio).get().saturating_add(lost.get());
    if lost > PartsPerMillion::ZERO && has_grown(ratio) && apart > SLIP.get() {
        return Some(ClothDoubt::GrowthForLoss {
            direction,
            share: grown(ratio),
            expected: lost,
        });
    }
    let loss = loss.max(expected.map_or(PartsPerMillion::ZERO, Ratio::shrinkage_ppm));
    let growth = growth.max(expected.map_or(PartsPerMillion::ZERO, grown));
    if has_lost_beyond(ratio, loss) {
        return Some(ClothDoubt::Loss {
            direction,
            share: ratio.shrinkage_ppm(),
            usual: loss,
        });
    }
    has_grown_beyond(ratio, growth).then(|| ClothDoubt::Growth {
        direction,
        share: grown(ratio),
        usual: growth,
    })
}

/// Growth as a share of the length before, rounded up; below zero when it shrinks.
fn grown(ratio: Ratio) -> PartsPerMillion {
    let difference = ratio.after().saturating_sub(ratio.before());
    let ppm = exact::mul_div_ceil(difference, PARTS_PER_MILLION, ratio.before());
    ppm.and_then(PartsPerMillion::new)
        .unwrap_or(PartsPerMillion::MAX)
}

const fn has_grown(ratio: Ratio) -> bool {
    ratio.after() > ratio.before()
}

/// `after / before > 1 + share`, compared exactly.
fn has_grown_beyond(ratio: Ratio, share: PartsPerMillion) -> bool {
    let limit = i128::from(PARTS_PER_MILLION.saturating_add(share.get()));
    millionths(ratio.after()) > i128::from(ratio.before()).saturating_mul(limit)
}

/// `after / before < 1 − share`, compared exactly.
fn has_lost_beyond(ratio: Ratio, share: PartsPerMillion) -> bool {
    let limit = i128::from(PARTS_PER_MILLION.saturating_sub(share.get()));
    millionths(ratio.after()) < i128::from(ratio.before()).saturating_mul(limit)
}

fn millionths(side: i64) -> i128 {
    i128::from(side).saturating_mul(i128::from(PARTS_PER_MILLION))
}
