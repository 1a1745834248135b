//! Typical shrinkage by fibre and construction, when nothing was tested or stated.
//!
//! Single web pages and one-off measurements stand behind most rows, some figures are from memory: they only ever
//! give an estimate, and each row says where it is from.

use super::{Preparation, Ratio};
use crate::{
    cloth::{FibreShare, fibre},
    quantity::PartsPerMillion,
};

/// Fibres from this share on count in a blend: 20 %.
const BLEND_SHARE_PPM: i64 = 200_000;

/// How a row may be used.
#[derive(PartialEq, Eq)]
enum Use {
    /// A first wash.
    Wash,
    /// Relaxation only: holds for steaming as well as for a wash.
    Relaxation,
    /// Only when the cloth holds elastane too.
    Stretch,
    /// Only when the construction is named.
    Named,
}

/// One published or remembered figure: the high end of its range, in ppm.
struct Row {
    fibres: &'static [&'static str],
    construction: &'static str,
    length: i64,
    width: Option<i64>,
    used: Use,
    source: &'static str,
}

const TRADE_PAGE: &str = "trade page modacrylic-xf.com, 12 Jun 2018";
const LINEN_BLOG: &str = "18thcstockholm.blogspot.com, 28 Sep 2017, one measured piece";
const ANSWER_PAGE: &str = "kembrel.com question page, weak";
const DENIM_PAGE: &str = "trade page meyijeans.com";
const LOOMSTATE: &str = "denimhunters.com; okayamadenim.com 2017";
const MEMORY: &str = "from memory, no source found";

const fn row(
    fibres: &'static [&'static str],
    construction: &'static str,
    (length, width): (i64, Option<i64>),
    used: Use,
    source: &'static str,
) -> Row {
    Row { fibres, construction, length, width, used, source }
}

/// Left out on purpose: linen washed several times, wool felted in a hot machine (treat as not washable), and a home
/// report of one cotton's width alone.
const ROWS: &[Row] = &[
    row(&["cotton"], "plain woven, ordinary finish", (60_000, Some(25_000)), Use::Wash, TRADE_PAGE),
    row(&["silk"], "plain light", (100_000, Some(30_000)), Use::Wash, TRADE_PAGE),
    row(
        &["cotton"],
        "mill pre-shrunk, residual",
        (60_000, None),
        Use::Wash,
        "textileschool.com \"Pre-Shrinking Finish on Fabrics\"",
    ),
    row(&["cotton"], "jersey knit, finished", (30_000, Some(30_000)), Use::Wash, ANSWER_PAGE),
    row(&["flax"], "modern open weave, hard-twist yarn, 60 C wash", (60_000, None), Use::Wash, LINEN_BLOG),
    row(&["flax"], "close old sheeting, 60 C wash", (25_000, None), Use::Wash, LINEN_BLOG),
    row(&["flax"], "average first wash", (40_000, None), Use::Wash, ANSWER_PAGE),
    row(&["viscose"], "woven, worst case", (100_000, None), Use::Wash, ANSWER_PAGE),
    row(
        &["cotton"],
        "denim, compressive-shrunk",
        (30_000, None),
        Use::Wash,
        "denimhunters.com; okayamadenim.com 2017 gives about 3 %",
    ),
    row(&["cotton"], "denim, loomstate", (100_000, None), Use::Wash, LOOMSTATE),
    row(&["cotton"], "denim, stretch", (30_000, Some(120_000)), Use::Stretch, DENIM_PAGE),
    row(&["polyester"], "denim-type stretch", (30_000, Some(80_000)), Use::Stretch, DENIM_PAGE),
    row(&["hemp"], "plain woven, unfinished", (80_000, Some(60_000)), Use::Wash, MEMORY),
    row(&["wool"], "flannel or tweed, relaxation only", (40_000, Some(30_000)), Use::Relaxation, MEMORY),
    row(&["viscose"], "woven, first wash", (80_000, Some(60_000)), Use::Wash, MEMORY),
    row(&["lyocell"], "woven", (50_000, Some(40_000)), Use::Wash, MEMORY),
    row(&["polyester"], "woven, heat-set", (10_000, Some(10_000)), Use::Wash, MEMORY),
    row(&["cotton"], "loomstate plain or twill", (120_000, Some(50_000)), Use::Wash, MEMORY),
    row(&["flax", "hair"], "sew-in hair canvas or linen canvas", (40_000, Some(20_000)), Use::Named, MEMORY),
];

/// A typical high end. Always an estimate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typical {
    /// Lengthwise.
    pub length: Ratio,
    /// Crosswise, where a figure is known.
    pub width: Option<Ratio>,
    /// Fibre, construction and where the figure is from.
    pub source: String,
}

/// The typical high end for a cloth of one fibre.
///
/// - Fibre: by its EU or US generic name; linen is flax, rayon is viscose.
/// - Construction: rows that hold every word of it; when none does, or none is given, all rows of the fibre.
/// - Of those the row that shrinks most lengthwise; crosswise the highest figure among them.
/// - Steamed: only rows of relaxation. `None` needs no figure and gets none.
/// - Several washes: the figures are of the first; felting in a machine is not covered.
#[must_use]
pub fn typical(name: &str, construction: Option<&str>, preparation: Preparation) -> Option<Typical> {
    highest(name, false, construction, preparation)
}

/// The typical high end for a blend: the highest of the fibres with a share of 20 % or more, said in the source.
#[must_use]
pub fn typical_of_blend(
    shares: &[FibreShare],
    construction: Option<&str>,
    preparation: Preparation,
) -> Option<Typical> {
    let stretch = shares.iter().any(|share| share.generic() == Some("elastane"));
    let main = shares.iter().filter(|share| share.share_ppm >= BLEND_SHARE_PPM);
    let found: Vec<Typical> =
        main.filter_map(|share| highest(&share.fibre, stretch, construction, preparation)).collect();
    let length = found.iter().max_by_key(|t| t.length.shrinkage_ppm())?;
    let width = found.iter().filter_map(|t| t.width).max_by_key(|w| w.shrinkage_ppm());
    let blend = if shares.len() > 1 { " (highest of the fibres of 20 % or more in the blend)" } else { "" };
    Some(Typical { length: length.length, width, source: format!("{}{blend}", length.source) })
}

fn highest(
    name: &str,
    stretch: bool,
    construction: Option<&str>,
    preparation: Preparation,
) -> Option<Typical> {
    let generic = fibre::find(name)?.name;
    let words: Vec<String> =
        construction.unwrap_or_default().split_whitespace().map(str::to_lowercase).collect();
    let named = |row: &Row| !words.is_empty() && words.iter().all(|word| row.construction.contains(word));
    let usable = |row: &&Row| {
        row.fibres.contains(&generic)
            && match preparation {
                Preparation::None => false,
                Preparation::Steamed => row.used == Use::Relaxation,
                Preparation::Washed { .. } => match row.used {
                    Use::Wash | Use::Relaxation => true,
                    Use::Stretch => stretch,
                    Use::Named => named(row),
                },
            }
    };
    let mut rows: Vec<&Row> = ROWS.iter().filter(usable).collect();
    if rows.iter().any(|row| named(row)) {
        rows.retain(|row| named(row));
    }
    // The first of equals.
    let longest = rows.iter().rev().max_by_key(|row| row.length)?;
    let widest = rows.iter().rev().filter(|row| row.width.is_some()).max_by_key(|row| row.width);
    let mut source = format!("typical high end for {generic}, {}: {}", longest.construction, longest.source);
    if let Some(other) = widest.filter(|widest| widest.construction != longest.construction) {
        source.push_str(&format!("; crosswise {}: {}", other.construction, other.source));
    }
    let ratio = |ppm: i64| PartsPerMillion::new(ppm).ok().and_then(|ppm| Ratio::from_ppm(ppm).ok());
    let width = widest.and_then(|row| row.width).and_then(ratio);
    Some(Typical { length: ratio(longest.length)?, width, source })
}
