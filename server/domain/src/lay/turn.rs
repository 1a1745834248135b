//! Turning outlines: quarter turns exactly, others by a table of whole sines.

use super::Point;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Unit of the table.
const ONE: i64 = 1_000_000_000_000;

/// sin 0° … sin 90° in [`ONE`], to the nearest whole (computed with 60 digits). Never to change: kept lays rest on it.
const SINES: [i64; 91] = [
    0,
    17_452_406_437,
    34_899_496_703,
    52_335_956_243,
    69_756_473_744,
    87_155_742_748,
    104_528_463_268,
    121_869_343_405,
    139_173_100_960,
    156_434_465_040,
    173_648_177_667,
    190_808_995_377,
    207_911_690_818,
    224_951_054_344,
    241_921_895_600,
    258_819_045_103,
    275_637_355_817,
    292_371_704_723,
    309_016_994_375,
    325_568_154_457,
    342_020_143_326,
    358_367_949_545,
    374_606_593_416,
    390_731_128_489,
    406_736_643_076,
    422_618_261_741,
    438_371_146_789,
    453_990_499_740,
    469_471_562_786,
    484_809_620_246,
    500_000_000_000,
    515_038_074_910,
    529_919_264_233,
    544_639_035_015,
    559_192_903_471,
    573_576_436_351,
    587_785_252_292,
    601_815_023_152,
    615_661_475_326,
    629_320_391_050,
    642_787_609_687,
    656_059_028_991,
    669_130_606_359,
    681_998_360_062,
    694_658_370_459,
    707_106_781_187,
    719_339_800_339,
    731_353_701_619,
    743_144_825_477,
    754_709_580_223,
    766_044_443_119,
    777_145_961_457,
    788_010_753_607,
    798_635_510_047,
    809_016_994_375,
    819_152_044_289,
    829_037_572_555,
    838_670_567_945,
    848_048_096_156,
    857_167_300_702,
    866_025_403_784,
    874_619_707_139,
    882_947_592_859,
    891_006_524_188,
    898_794_046_299,
    906_307_787_037,
    913_545_457_643,
    920_504_853_452,
    927_183_854_567,
    933_580_426_497,
    939_692_620_786,
    945_518_575_599,
    951_056_516_295,
    956_304_755_963,
    961_261_695_938,
    965_925_826_289,
    970_295_726_276,
    974_370_064_785,
    978_147_600_734,
    981_627_183_448,
    984_807_753_012,
    987_688_340_595,
    990_268_068_742,
    992_546_151_641,
    994_521_895_368,
    996_194_698_092,
    997_564_050_260,
    998_629_534_755,
    999_390_827_019,
    999_847_695_156,
    1_000_000_000_000,
];

/// A turn against the clock, seen with the warp to the right and the weft upwards, in whole degrees from 0 to 359.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(from = "u16", into = "u16")]
pub struct Turn(u16);

impl Turn {
    /// As it is drawn.
    pub const NONE: Self = Self(0);

    /// So many degrees; a full turn is none.
    #[must_use]
    pub const fn degrees(degrees: u16) -> Self {
        Self(degrees.rem_euclid(360))
    }

    /// Degrees from 0 to 359.
    #[must_use]
    pub const fn get(self) -> u16 {
        self.0
    }

    /// A point turned about the origin.
    ///
    /// - Formula: along · cos − across · sin, along · sin + across · cos.
    /// - Rounding: quarter turns exact; else both down to a micrometre, so that an outline is moved by half of one rather than
    ///   bent, and a rectangle at 45° lies in the least whole square around it.
    /// - Source: geometry.
    #[must_use]
    pub fn turned(self, point: Point) -> Point {
        let Point { along, across } = point;
        match self.0 {
            0 => point,
            90 => Point::new(-across, along),
            180 => Point::new(-along, -across),
            270 => Point::new(across, -along),
            degrees => {
                let (sine, cosine) = (sine(degrees), sine(degrees + 90));
                let [along, across, sine, cosine] = [along, across, sine, cosine].map(i128::from);
                Point::new(
                    whole(along * cosine - across * sine),
                    whole(along * sine + across * cosine),
                )
            }
        }
    }

    /// True for a turn by a multiple of 90°.
    pub(super) const fn is_exact(self) -> bool {
        self.0.is_multiple_of(90)
    }
}

fn whole(scaled: i128) -> i64 {
    i64::try_from(scaled.div_euclid(i128::from(ONE))).unwrap_or(i64::MAX)
}

/// Sine of whole degrees in [`ONE`].
fn sine(degrees: u16) -> i64 {
    let degrees = degrees.rem_euclid(360);
    let of = |degrees: u16| SINES.get(usize::from(degrees)).copied().unwrap_or(0);
    match degrees {
        0..=90 => of(degrees),
        91..=180 => of(180 - degrees),
        181..=270 => -of(degrees - 180),
        _ => -of(360 - degrees),
    }
}

impl From<u16> for Turn {
    fn from(degrees: u16) -> Self {
        Self::degrees(degrees)
    }
}

impl From<Turn> for u16 {
    fn from(turn: Turn) -> Self {
        turn.0
    }
}

impl fmt::Display for Turn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}°", self.0)
    }
}
