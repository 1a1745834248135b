//! Stitch types: those of ISO 4915 with what is published of their thread, hand stitches and counted items.

use super::{
    counted::Item, error::SeamError, formula::Formula, hand::HandStitch, ratio::ThreadRatio,
};
use std::fmt;

/// Where a figure of a stitch type comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Printed {
    /// Printed in a source that was read.
    Found,
    /// From memory, not verified.
    FromMemory,
    /// Our own geometry.
    OwnGeometry,
}

/// How the thread is shared between needle and under thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    /// Of the needle threads together; percent. The rest is under thread.
    pub needle_percent: i64,
    /// How well it is known.
    pub status: Printed,
}

/// A machine stitch of ISO 4915.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MachineStitch {
    /// Its number.
    pub class: u16,
    /// Its name.
    pub name: &'static str,
    /// Needles, each with a thread.
    pub needles: u8,
    /// Bobbin, looper and covering threads.
    pub under_threads: u8,
    /// Tenths of a metre of thread in a metre of seam, for about 7 stitches/cm and thin cloth.
    pub(super) ratio_tenths: Option<i64>,
    /// The geometric formula.
    pub formula: Option<Formula>,
    /// Where the formula comes from.
    pub formula_status: Printed,
    /// How the thread is shared; none: not known.
    pub share: Option<Share>,
    /// What sources disagree on, for people.
    pub remark: Option<&'static str>,
}

const fn formula(base: i64, thick: i64, wide: i64) -> Option<Formula> {
    Some(Formula { base, thick, wide })
}

const fn share(needle_percent: i64, status: Printed) -> Option<Share> {
    Some(Share {
        needle_percent,
        status,
    })
}

const PLAIN: MachineStitch = MachineStitch {
    class: 0,
    name: "",
    needles: 1,
    under_threads: 1,
    ratio_tenths: None,
    formula: None,
    formula_status: Printed::Found,
    share: None,
    remark: None,
};

/// Ratios: a table of thread consumption credited to Carr & Latham, Technology of Clothing Manufacture (secondary copy on
/// scribd, doc 194966618; the book was not seen), for 7 stitches/cm (18 per inch) and thin goods. Formulas: see [`Formula`];
/// that of 209 is our own geometry of a running stitch. Shares of 101 and 301: goldnfiber.com 2019; the others are from
/// memory. Numbers of under threads follow from the names; those of 406, 503 and 512 are from memory.
const MACHINE: &[MachineStitch] = &[
    MachineStitch {
        class: 101,
        name: "single-thread chainstitch",
        under_threads: 0,
        ratio_tenths: Some(40),
        formula: formula(3, 2, 0),
        share: share(100, Printed::Found),
        ..PLAIN
    },
    MachineStitch {
        class: 103,
        name: "single-thread blind stitch",
        under_threads: 0,
        share: share(100, Printed::OwnGeometry),
        remark: Some("no ratio for 103 was found in a source we could read"),
        ..PLAIN
    },
    MachineStitch {
        class: 209,
        name: "hand running or saddle stitch",
        under_threads: 0,
        formula: formula(1, 1, 0),
        formula_status: Printed::OwnGeometry,
        share: share(100, Printed::OwnGeometry),
        remark: Some("no published ratio for 209 was found: the formula is plain geometry"),
        ..PLAIN
    },
    MachineStitch {
        class: 301,
        name: "lockstitch",
        ratio_tenths: Some(25),
        formula: formula(2, 2, 0),
        share: share(50, Printed::Found),
        ..PLAIN
    },
    MachineStitch {
        class: 401,
        name: "two-thread chainstitch",
        ratio_tenths: Some(55),
        formula: formula(4, 2, 0),
        share: share(25, Printed::FromMemory),
        ..PLAIN
    },
    MachineStitch {
        class: 406,
        name: "two-needle bottom cover stitch",
        needles: 2,
        ratio_tenths: Some(180),
        formula: formula(7, 2, 2),
        share: share(30, Printed::FromMemory),
        ..PLAIN
    },
    MachineStitch {
        class: 503,
        name: "two-thread overedge",
        ratio_tenths: Some(120),
        share: share(55, Printed::FromMemory),
        remark: Some(
            "sources disagree on the ratio of 503: 12 in the table used here, 4 in another list",
        ),
        ..PLAIN
    },
    // The other printing, 3 + 4·W·S + 4·T·S, gives 2 less everywhere: the one that takes more thread is used, because short
    // thread stops the work.
    MachineStitch {
        class: 504,
        name: "three-thread overedge",
        under_threads: 2,
        ratio_tenths: Some(140),
        formula: formula(5, 4, 4),
        share: share(20, Printed::FromMemory),
        remark: Some(
            "sources disagree on 504: the formula is printed with 5 (used here) and with 3 in front, and the ratio as \
             14 (used here), as 7, and as 9 in an example of a shirt",
        ),
        ..PLAIN
    },
    MachineStitch {
        class: 512,
        name: "four-thread mock safety stitch",
        needles: 2,
        under_threads: 2,
        ratio_tenths: Some(180),
        share: share(25, Printed::FromMemory),
        remark: Some(
            "sources disagree on the ratio of 512: 18 in the table used here, 12 in another list",
        ),
        ..PLAIN
    },
    MachineStitch {
        class: 514,
        name: "four-thread overedge",
        needles: 2,
        under_threads: 2,
        formula: formula(5, 6, 4),
        remark: Some("no ratio and no share for 514 was found"),
        ..PLAIN
    },
    MachineStitch {
        class: 516,
        name: "five-thread safety stitch",
        needles: 2,
        under_threads: 3,
        ratio_tenths: Some(200),
        formula: formula(9, 6, 4),
        share: share(20, Printed::FromMemory),
        ..PLAIN
    },
    MachineStitch {
        class: 602,
        name: "two-needle cover stitch, four threads",
        needles: 2,
        under_threads: 2,
        ratio_tenths: Some(250),
        formula: formula(8, 4, 5),
        share: share(20, Printed::FromMemory),
        ..PLAIN
    },
    MachineStitch {
        class: 605,
        name: "three-needle cover stitch, five threads",
        needles: 3,
        under_threads: 2,
        ratio_tenths: Some(280),
        formula: formula(10, 6, 4),
        share: share(30, Printed::FromMemory),
        ..PLAIN
    },
];

/// Numbers of ISO 4915, from memory; 515 to 519 are the usual numbers of two stitches sewn together.
const ISO_4915: &[(u16, u16)] = &[
    (101, 105),
    (107, 108),
    (201, 205),
    (209, 209),
    (211, 211),
    (213, 215),
    (217, 217),
    (219, 220),
    (301, 327),
    (401, 417),
    (501, 522),
    (601, 609),
];

/// The machine stitches of which something is known.
#[must_use]
pub const fn machine_stitches() -> &'static [MachineStitch] {
    MACHINE
}

impl MachineStitch {
    /// The published ratio, for about 7 stitches/cm and thin cloth.
    #[must_use]
    pub fn ratio(&self) -> Option<ThreadRatio> {
        ThreadRatio::new(self.ratio_tenths?.into(), 10)
    }
}

/// How something is sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stitch {
    /// A stitch of ISO 4915 of which something is known.
    Machine(&'static MachineStitch),
    /// One of ISO 4915 of which nothing is known: measured only.
    Unknown(u16),
    /// By hand, along a line.
    Hand(HandStitch),
    /// A counted thing: a buttonhole, a bar tack, a button.
    Item(Item),
}

impl Stitch {
    /// Reads a number of ISO 4915, or the name of a hand stitch or of a counted item.
    ///
    /// # Errors
    /// [`SeamError::NotAStitch`] with the nearest that are known.
    pub fn parse(text: &str) -> Result<Self, SeamError> {
        let word = text.trim().to_lowercase().replace([' ', '_'], "-");
        let digits = word.strip_prefix("iso-").unwrap_or(&word);
        if let Ok(class) = digits.parse::<u16>() {
            return Self::of_class(class).ok_or_else(|| SeamError::NotAStitch {
                text: text.trim().to_owned(),
                nearest: nearest(class),
            });
        }
        let hand = HandStitch::named(&word).map(Self::Hand);
        hand.or_else(|| Item::named(&word).map(Self::Item))
            .ok_or_else(|| SeamError::NotAWord {
                text: text.trim().to_owned(),
                known: names().join(", "),
            })
    }

    fn of_class(class: u16) -> Option<Self> {
        if let Some(known) = MACHINE.iter().find(|stitch| stitch.class == class) {
            return Some(Self::Machine(known));
        }
        ISO_4915
            .iter()
            .any(|(from, to)| (*from..=*to).contains(&class))
            .then_some(Self::Unknown(class))
    }

    /// Needle threads and under threads, each of which begins and ends with a tail.
    #[must_use]
    pub const fn threads(self) -> (i64, i64) {
        match self {
            Self::Machine(stitch) => (stitch.needles as i64, stitch.under_threads as i64),
            Self::Unknown(100..=299) | Self::Hand(_) => (1, 0),
            Self::Unknown(_) => (1, 1),
            Self::Item(item) => item.threads(),
        }
    }

    /// Its name for people.
    #[must_use]
    pub fn describe(self) -> String {
        match self {
            Self::Machine(stitch) => stitch.name.to_owned(),
            Self::Unknown(class) => format!("ISO 4915 stitch type {class}"),
            Self::Hand(stitch) => stitch.describe().to_owned(),
            Self::Item(item) => item.describe().to_owned(),
        }
    }
}

/// The three numbers of which something is known that come nearest.
fn nearest(class: u16) -> String {
    let mut known: Vec<u16> = MACHINE.iter().map(|stitch| stitch.class).collect();
    known.sort_by_key(|one| (one.abs_diff(class), *one));
    known.truncate(3);
    known.sort_unstable();
    known
        .iter()
        .map(u16::to_string)
        .collect::<Vec<_>>()
        .join(", ")
}

/// Words that are read beside the numbers.
fn names() -> Vec<&'static str> {
    let hand = HandStitch::ALL.iter().map(|stitch| stitch.word());
    hand.chain(Item::ALL.iter().map(|item| item.word()))
        .collect()
}

impl fmt::Display for Stitch {
    /// As it is typed: `301`, `back`, `bar-tack`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Machine(stitch) => f.pad(&stitch.class.to_string()),
            Self::Unknown(class) => f.pad(&class.to_string()),
            Self::Hand(stitch) => f.pad(stitch.word()),
            Self::Item(item) => f.pad(item.word()),
        }
    }
}
