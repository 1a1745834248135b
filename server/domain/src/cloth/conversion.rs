//! Length of cloth for the same garment at another width, from the published chart.

use crate::{
    certainty::Certainty,
    quantity::{Micrometres, exact},
};

/// Narrowest and widest width of each column, in micrometres (32, 35–36, 39, 41, 44–45, 50, 52–54, 58–60, 66 in).
const COLUMNS: [(i64, i64); 9] = [
    (812_800, 812_800),
    (889_000, 914_400),
    (990_600, 990_600),
    (1_041_400, 1_041_400),
    (1_117_600, 1_143_000),
    (1_270_000, 1_270_000),
    (1_320_800, 1_371_600),
    (1_473_200, 1_524_000),
    (1_676_400, 1_676_400),
];

/// An eighth of a yard in micrometres.
const EIGHTH: i64 = 114_300;

/// The chart in eighths of a yard.
///
/// Columns 35–36 to 66 in: sewwithsarah.com, agreeing with hookedonsewing.com and greenspun.com. The 32 in column is from
/// memory but for its 3 3/4 yd (sewing.about.com).
const CHART: [[i64; 9]; 12] = [
    [15, 14, 12, 12, 11, 10, 9, 8, 7],
    [18, 16, 14, 14, 13, 12, 11, 10, 9],
    [20, 18, 16, 16, 14, 13, 12, 11, 10],
    [22, 20, 18, 18, 17, 14, 14, 13, 12],
    [25, 23, 20, 20, 18, 16, 15, 14, 13],
    [27, 25, 22, 22, 20, 18, 16, 15, 14],
    [30, 27, 24, 23, 22, 19, 18, 16, 15],
    [32, 30, 26, 25, 23, 21, 19, 18, 17],
    [35, 34, 28, 27, 25, 22, 21, 19, 18],
    [37, 36, 30, 29, 27, 24, 22, 21, 20],
    [40, 38, 32, 31, 29, 26, 23, 22, 21],
    [42, 40, 34, 33, 31, 27, 25, 23, 22],
];

/// A converted length. The chart cannot know how wide the parts are: one wider than the new cloth makes it void.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Estimate {
    /// Length by the chart.
    pub length: Micrometres,
    /// Length of the same area, rounded up: a cross-check, within about 15 % of the chart.
    pub by_proportion: Micrometres,
    /// Always estimated.
    pub certainty: Certainty,
}

/// Converts a length at one usable width to another by the chart.
///
/// - Between two rows the next row up counts.
/// - A width between two columns is read where more cloth comes out: the new width as the next narrower column, the
///   old width as the next wider one.
/// - Nothing beyond the chart: above its last row or below its first one, a new width below 32 in, an old width above 66 in.
#[must_use]
pub fn convert(
    length: Micrometres,
    from_width: Micrometres,
    to_width: Micrometres,
) -> Option<Estimate> {
    let from = COLUMNS
        .iter()
        .position(|(_, widest)| from_width.get() <= *widest)?;
    let to = COLUMNS
        .iter()
        .rposition(|(narrowest, _)| to_width.get() >= *narrowest)?;
    let um = if from == to {
        length.get()
    } else {
        let at = |row: &[i64; 9]| row[from].saturating_mul(EIGHTH);
        // What is shorter than the first row may be so much shorter that the row says nothing of it.
        let row = CHART
            .iter()
            .find(|row| at(row) >= length.get())
            .filter(|_| at(&CHART[0]) <= length.get())?;
        row[to].saturating_mul(EIGHTH)
    };
    let by_proportion = exact::mul_div_ceil(length.get(), from_width.get(), to_width.get()).ok()?;
    Some(Estimate {
        length: Micrometres::new(um).ok()?,
        by_proportion: Micrometres::new(by_proportion).ok()?,
        certainty: Certainty::Estimated,
    })
}
