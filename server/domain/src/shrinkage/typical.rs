//! Typical shrinkage by fibre and construction, when nothing was tested or stated.
//!
//! Single web pages and one-off measurements stand behind most rows, some figures are from memory: they only ever
//! give an estimate, and each row says where it is from.

use super::{
    Preparation, Ratio,
    construction::{LOOMSTATE, PRESHRUNK, Structure, Words},
};
use crate::{
    cloth::{FibreShare, fibre},
    quantity::PartsPerMillion,
};

/// Fibres from this share on count in a blend: 20 %.
const BLEND_SHARE_PPM: i64 = 200_000;

/// Fibres that go on shrinking from wash to wash: hair felts (scribd 336614289), regenerated cellulose relaxes little by
/// little (from memory).
const PROGRESSIVE: &[&str] = &[
    "wool",
    "alpaca",
    "llama",
    "camel",
    "cashmere",
    "mohair",
    "angora",
    "vicuna",
    "yak",
    "guanaco",
    "cashgora",
    "beaver",
    "otter",
    "fur fiber",
    "hair",
    "viscose",
    "modal",
    "cupro",
];

/// How a row may be used.
#[derive(PartialEq, Eq)]
enum Use {
    /// A first wash.
    Wash,
    /// Relaxation only: holds for steaming as well as for a wash.
    Relaxation,
    /// Only when the cloth holds elastane too.
    Stretch,
}

/// One published or remembered figure: the high end of its range, in ppm.
struct Row {
    fibres: &'static [&'static str],
    construction: &'static str,
    /// Words that must be said, one of each group; none: the row holds for whatever nothing nearer is known of.
    words: &'static [&'static [&'static str]],
    structure: Structure,
    length: i64,
    width: Option<i64>,
    used: Use,
    source: &'static str,
}

const TRADE_PAGE: &str = "trade page modacrylic-xf.com, 12 Jun 2018";
const LINEN_BLOG: &str = "18thcstockholm.blogspot.com, 28 Sep 2017, one measured piece";
const ANSWER_PAGE: &str = "kembrel.com question page, weak";
const DENIM_PAGE: &str = "trade page meyijeans.com";
const LOOMSTATE_DENIM: &str = "denimhunters.com; okayamadenim.com 2017";
const MEMORY: &str = "a rule of thumb, without a source";

const DENIM: &[&str] = &["denim", "jean", "jeans"];
const ANY: &[&[&str]] = &[];

const fn row(
    fibres: &'static [&'static str],
    construction: &'static str,
    words: &'static [&'static [&'static str]],
    (length, width): (i64, Option<i64>),
    used: Use,
    source: &'static str,
) -> Row {
    Row {
        fibres,
        construction,
        words,
        structure: Structure::Woven,
        length,
        width,
        used,
        source,
    }
}

/// Left out on purpose: linen washed several times, wool felted in a hot machine (treat as not washable), and a home
/// report of one cotton's width alone.
const ROWS: &[Row] = &[
    row(
        &["cotton"],
        "plain woven, ordinary finish",
        ANY,
        (60_000, Some(25_000)),
        Use::Wash,
        TRADE_PAGE,
    ),
    row(
        &["silk"],
        "plain light",
        ANY,
        (100_000, Some(30_000)),
        Use::Wash,
        TRADE_PAGE,
    ),
    row(
        &["cotton"],
        "mill pre-shrunk, residual",
        &[PRESHRUNK],
        (60_000, None),
        Use::Wash,
        "textileschool.com \"Pre-Shrinking Finish on Fabrics\"",
    ),
    Row {
        structure: Structure::Knit,
        ..row(
            &["cotton"],
            "jersey knit, finished",
            &[&["jersey", "knit", "knits", "knitted"]],
            (30_000, Some(30_000)),
            Use::Wash,
            ANSWER_PAGE,
        )
    },
    row(
        &["flax"],
        "modern open weave, hard-twist yarn, 60 C wash",
        ANY,
        (60_000, None),
        Use::Wash,
        LINEN_BLOG,
    ),
    row(
        &["flax"],
        "close old sheeting, 60 C wash",
        &[&["old", "antique"], &["sheeting", "sheet", "sheets"]],
        (25_000, None),
        Use::Wash,
        LINEN_BLOG,
    ),
    row(
        &["flax"],
        "average first wash",
        ANY,
        (40_000, None),
        Use::Wash,
        ANSWER_PAGE,
    ),
    row(
        &["viscose"],
        "woven, worst case",
        ANY,
        (100_000, None),
        Use::Wash,
        ANSWER_PAGE,
    ),
    row(
        &["cotton"],
        "denim, compressive-shrunk",
        &[DENIM, PRESHRUNK],
        (30_000, None),
        Use::Wash,
        "denimhunters.com; okayamadenim.com 2017 gives about 3 %",
    ),
    row(
        &["cotton"],
        "denim, loomstate",
        &[DENIM, LOOMSTATE],
        (100_000, None),
        Use::Wash,
        LOOMSTATE_DENIM,
    ),
    row(
        &["cotton"],
        "denim, taken as loomstate because no compressive shrinking is stated",
        &[DENIM],
        (100_000, None),
        Use::Wash,
        LOOMSTATE_DENIM,
    ),
    row(
        &["cotton"],
        "denim, stretch",
        ANY,
        (30_000, Some(120_000)),
        Use::Stretch,
        DENIM_PAGE,
    ),
    row(
        &["polyester"],
        "denim-type stretch",
        ANY,
        (30_000, Some(80_000)),
        Use::Stretch,
        DENIM_PAGE,
    ),
    row(
        &["hemp"],
        "plain woven, unfinished",
        ANY,
        (80_000, Some(60_000)),
        Use::Wash,
        MEMORY,
    ),
    row(
        &["wool"],
        "flannel or tweed, relaxation only",
        ANY,
        (40_000, Some(30_000)),
        Use::Relaxation,
        MEMORY,
    ),
    row(
        &["viscose"],
        "woven, first wash",
        ANY,
        (80_000, Some(60_000)),
        Use::Wash,
        MEMORY,
    ),
    row(
        &["lyocell"],
        "woven",
        ANY,
        (50_000, Some(40_000)),
        Use::Wash,
        MEMORY,
    ),
    row(
        &["polyester"],
        "woven, heat-set",
        ANY,
        (10_000, Some(10_000)),
        Use::Wash,
        MEMORY,
    ),
    row(
        &["cotton"],
        "loomstate plain or twill",
        &[LOOMSTATE],
        (120_000, Some(50_000)),
        Use::Wash,
        MEMORY,
    ),
    row(
        &["flax", "hair"],
        "sew-in hair canvas or linen canvas",
        &[&["canvas", "haircloth"]],
        (40_000, Some(20_000)),
        Use::Wash,
        MEMORY,
    ),
];

/// A typical high end. Always an estimate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typical {
    /// Lengthwise.
    pub length: Ratio,
    /// Crosswise, where a figure is known.
    pub width: Option<Ratio>,
    /// Fibre, construction and where the length's figure is from.
    pub source: String,
    /// The same of the width; empty where none is known.
    pub width_source: String,
}

/// The typical high end for a cloth of one fibre.
///
/// - Fibre: by its EU or US generic name; linen is flax, rayon is viscose.
/// - Construction: the rows whose words are said, those with the most words first; when no words of a row are said, the
///   rows that ask for none. Woven rows hold for woven cloth, and where nothing is said; knits take only figures of knits;
///   of felt, fleece, lace and net none is known.
/// - Of those the row that shrinks most lengthwise; crosswise the highest figure among them.
/// - Steamed: only rows of relaxation. `None` needs no figure and gets none.
/// - Several washes: the figures are of the first, which is said of fibres that go on shrinking.
#[must_use]
pub fn typical(
    name: &str,
    construction: Option<&str>,
    preparation: Preparation,
) -> Option<Typical> {
    highest(name, false, &Words::new(construction), preparation)
}

/// The typical high end for a blend: the highest of the fibres with a share of 20 % or more, said in the source.
///
/// Nothing when fibres without a figure make 20 % or more together: what they do is unknown, and so is the blend.
#[must_use]
pub fn typical_of_blend(
    shares: &[FibreShare],
    construction: Option<&str>,
    preparation: Preparation,
) -> Option<Typical> {
    let words = Words::new(construction);
    let stretch = shares
        .iter()
        .any(|share| share.generic() == Some("elastane"));
    let mut found: Vec<Typical> = Vec::new();
    let mut unknown = 0_i64;
    for share in shares {
        match highest(&share.fibre, stretch, &words, preparation) {
            Some(typical) if share.share_ppm >= BLEND_SHARE_PPM => found.push(typical),
            Some(_) => {}
            None => unknown = unknown.saturating_add(share.share_ppm),
        }
    }
    if unknown >= BLEND_SHARE_PPM {
        return None;
    }
    // The first of equals.
    found.reverse();
    let length = found.iter().max_by_key(|t| t.length.shrinkage_ppm())?;
    let widest = found
        .iter()
        .filter(|t| t.width.is_some())
        .max_by_key(|t| t.width.map(Ratio::shrinkage_ppm));
    let blend = if shares.len() > 1 {
        " (highest of the fibres of 20 % or more in the blend)"
    } else {
        ""
    };
    Some(Typical {
        length: length.length,
        width: widest.and_then(|t| t.width),
        source: format!("{}{blend}", length.source),
        width_source: widest
            .map(|t| format!("{}{blend}", t.width_source))
            .unwrap_or_default(),
    })
}

/// The first fibre of 20 % or more that goes on shrinking from wash to wash.
#[must_use]
pub fn progressive(shares: &[FibreShare]) -> Option<&'static str> {
    let main = shares
        .iter()
        .filter(|share| share.share_ppm >= BLEND_SHARE_PPM);
    main.filter_map(FibreShare::generic)
        .find(|generic| PROGRESSIVE.contains(generic))
}

fn highest(name: &str, stretch: bool, words: &Words, preparation: Preparation) -> Option<Typical> {
    let generic = fibre::find(name)?.name;
    let structure = words.structure();
    let usable = |row: &&Row| {
        row.fibres.contains(&generic)
            && row.structure == structure
            && row.words.iter().all(|group| words.contain(group))
            && match preparation {
                Preparation::None | Preparation::Raw => false,
                Preparation::Steamed => row.used == Use::Relaxation,
                Preparation::Washed { .. } => stretch || row.used != Use::Stretch,
            }
    };
    let mut rows: Vec<&Row> = ROWS.iter().filter(usable).collect();
    let most = rows.iter().map(|row| row.words.len()).max()?;
    rows.retain(|row| row.words.len() == most || row.used == Use::Stretch);
    // The first of equals.
    let longest = rows.iter().rev().max_by_key(|row| row.length)?;
    let widest = rows
        .iter()
        .rev()
        .filter(|row| row.width.is_some())
        .max_by_key(|row| row.width);
    let again = match preparation.cycles() > 1 && PROGRESSIVE.contains(&generic) {
        true => "; of one wash only, further washes may shrink it more",
        false => "",
    };
    let source = |row: &Row| {
        format!(
            "typical high end for {generic}, {}: {}{again}",
            row.construction, row.source
        )
    };
    let ratio = |ppm: i64| {
        PartsPerMillion::new(ppm)
            .ok()
            .and_then(|ppm| Ratio::from_ppm(ppm).ok())
    };
    Some(Typical {
        length: ratio(longest.length)?,
        width: widest.and_then(|row| row.width).and_then(ratio),
        source: source(longest),
        width_source: widest.map(|row| source(row)).unwrap_or_default(),
    })
}
