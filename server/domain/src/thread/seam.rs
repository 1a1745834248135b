//! The thread of one seam: what it is worked out from, and how well that is known.

use super::{
    density::Density,
    error::SeamError,
    ratio::ThreadRatio,
    sample::Sample,
    stitch::{MachineStitch, Printed, Stitch},
};
use crate::{
    certainty::Certainty,
    quantity::{Micrometres, PARTS_PER_MILLION, PartsPerMillion},
};

/// The greatest count of a seam, and the most stitches of an item.
const COUNT_MAX: i64 = 10_000;

/// What a seam is measured by; what its stitch does not need may be left out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Measures {
    /// Length of one seam; of a buttonhole its slit, of a bar tack the bar.
    pub length: Option<Micrometres>,
    /// Stitches in a length.
    pub density: Option<Density>,
    /// All layers together.
    pub thickness: Option<Micrometres>,
    /// Width of the seam, gauge of the needles, width of an item over all; of a button the way between two holes.
    pub width: Option<Micrometres>,
    /// Hand stitches: depth of the bite.
    pub bite: Option<Micrometres>,
    /// Pad stitches: how far one slants across.
    pub across: Option<Micrometres>,
    /// Purled stitches: thread in a knot, about two diameters of the thread.
    pub knot: Option<Micrometres>,
    /// Buttons: height of the shank.
    pub shank: Option<Micrometres>,
    /// Bar tacks: stitches; buttons: passes of the thread.
    pub stitches: Option<i64>,
}

/// A seam, or something counted, as it is planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seam {
    /// How it is sewn.
    pub stitch: Stitch,
    /// How many.
    pub count: i64,
    /// Its measures.
    pub measures: Measures,
    /// Thread drawn out of a sample; before any formula.
    pub sample: Option<Sample>,
    /// Thread of one by a figure of one's own, with all that belongs to it.
    pub each: Option<Micrometres>,
    /// Share of the needle thread, given.
    pub needle_share: Option<PartsPerMillion>,
}

/// What the thread of a seam was worked out from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// A sample that was unpicked.
    Sample,
    /// A figure that was given for each.
    Given,
    /// The geometric formula of the stitch type.
    Formula,
    /// The published ratio of the stitch type.
    Ratio,
    /// The geometry of a hand stitch or a counted item.
    Geometry,
}

impl Method {
    /// The word as shown and sent.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sample => "sample",
            Self::Given => "given",
            Self::Formula => "formula",
            Self::Ratio => "ratio",
            Self::Geometry => "geometry",
        }
    }

    /// How well the thread is known by it.
    #[must_use]
    pub const fn certainty(self) -> Certainty {
        match self {
            Self::Sample => Certainty::Measured,
            Self::Given => Certainty::Stated,
            Self::Formula | Self::Ratio | Self::Geometry => Certainty::Estimated,
        }
    }
}

/// How the thread is shared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    /// Only needle thread.
    OneThread,
    /// As it was drawn out of a sample.
    Measured,
    /// By a share that was given.
    Given(PartsPerMillion),
    /// By the share of the stitch type, in percent of needle thread.
    Table(i64, Printed),
    /// Nobody knows: only the whole is.
    Unknown,
}

/// Thread of a seam, for its whole count; every length rounds up to a whole micrometre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SeamThread {
    /// The seam.
    pub seam: Seam,
    /// Length of all of them together; none for counted items and figures of one's own.
    pub run: Option<Micrometres>,
    /// Thread in a metre of seam; none where there is no such figure.
    pub ratio: Option<ThreadRatio>,
    /// What it was worked out from.
    pub method: Method,
    /// How it is shared.
    pub split: Split,
    /// Needle thread; all of it where the share is unknown.
    pub needle: Micrometres,
    /// Under thread; zero where the share is unknown.
    pub under: Micrometres,
    /// Both.
    pub total: Micrometres,
    /// Tails of needle thread: two for each thread of each seam. None where a figure of one's own holds them.
    pub needle_tails: i64,
    /// Tails of under thread.
    pub under_tails: i64,
}

/// What was found, before it is multiplied.
enum Found {
    PerMetre(ThreadRatio),
    Both(ThreadRatio, ThreadRatio),
    Each(Micrometres),
    Counted(Micrometres, Micrometres),
}

impl Seam {
    /// Works its thread out: by a sample, by a figure of one's own, by the geometric formula where its measures are given,
    /// else by the published ratio; else it is refused, never guessed.
    ///
    /// # Errors
    /// [`SeamError`]: a measure of zero or one that is missing, a stitch of which nothing is known.
    pub fn thread(&self) -> Result<SeamThread, SeamError> {
        self.check()?;
        let (method, found) = self.found()?;
        let split = self.split(&found);
        let count = self.count;
        let times = |one: Micrometres| one.times(count).map_err(SeamError::from);
        let run = match found {
            Found::PerMetre(_) | Found::Both(..) => {
                Some(times(self.measures.length.ok_or(SeamError::NoLength)?)?)
            }
            Found::Each(_) | Found::Counted(..) => None,
        };
        let over = |ratio: ThreadRatio| {
            ratio
                .thread_up(run.unwrap_or_default())
                .map_err(SeamError::from)
        };
        let mut ratio = None;
        let (needle, under) = match found {
            Found::Both(needle, under) => {
                ratio = needle.plus(under);
                (over(needle)?, over(under)?)
            }
            Found::Counted(needle, under) => (times(needle)?, times(under)?),
            Found::PerMetre(whole) => {
                ratio = Some(whole);
                let (part, of) = split.needle_part();
                let needle = whole.share(part, of).ok_or(SeamError::Overflow)?;
                let under = whole
                    .share(of.saturating_sub(part), of)
                    .ok_or(SeamError::Overflow)?;
                (over(needle)?, over(under)?)
            }
            Found::Each(each) => {
                let all = times(each)?;
                let (part, of) = split.needle_part();
                (
                    all.scale_up(part, of)?,
                    all.scale_up(of.saturating_sub(part), of)?,
                )
            }
        };
        let (needles, unders) = self.stitch.threads();
        let tails = |threads: i64| match method {
            Method::Given => 0,
            _ => threads.saturating_mul(2).saturating_mul(count),
        };
        Ok(SeamThread {
            seam: *self,
            run,
            ratio,
            method,
            split,
            needle,
            under,
            total: needle.plus(under)?,
            needle_tails: tails(needles),
            under_tails: tails(unders),
        })
    }

    fn check(&self) -> Result<(), SeamError> {
        let measures = &self.measures;
        for count in [Some(self.count), measures.stitches].into_iter().flatten() {
            if !(1..=COUNT_MAX).contains(&count) {
                return Err(SeamError::Count { count });
            }
        }
        let small = [
            ("thickness", measures.thickness),
            ("width", measures.width),
            ("bite", measures.bite),
            ("across", measures.across),
            ("knot", measures.knot),
            ("shank", measures.shank),
        ];
        for (measure, length) in small
            .into_iter()
            .chain([("length", measures.length), ("each", self.each)])
        {
            if length.is_some_and(Micrometres::is_zero) {
                return Err(SeamError::NotPositive { measure });
            }
        }
        for (measure, length) in small {
            if length.is_some_and(|length| length > Micrometres::METRE) {
                return Err(SeamError::TooLarge { measure });
            }
        }
        let whole = PartsPerMillion::ZERO..=PartsPerMillion::WHOLE;
        match self.needle_share {
            Some(_) if self.stitch.threads().1 == 0 => Err(SeamError::OneThread {
                stitch: self.stitch.to_string(),
            }),
            Some(share) if !whole.contains(&share) => Err(SeamError::Share),
            _ => Ok(()),
        }
    }

    fn found(&self) -> Result<(Method, Found), SeamError> {
        if let Some(sample) = self.sample {
            let (needle, under) = sample.ratios().ok_or(SeamError::Overflow)?;
            let has_under = under.parts().0 > 0;
            return match self.stitch.threads().1 {
                0 if has_under => Err(SeamError::OneThread {
                    stitch: self.stitch.to_string(),
                }),
                // Of a stitch that nothing is known of, only the sample says how many threads there are.
                1.. if !has_under && !matches!(self.stitch, Stitch::Unknown(_)) => {
                    Err(SeamError::EmptySample)
                }
                _ => Ok((Method::Sample, Found::Both(needle, under))),
            };
        }
        if let Some(each) = self.each {
            return Ok((Method::Given, Found::Each(each)));
        }
        match self.stitch {
            Stitch::Machine(stitch) => self.by_machine(stitch),
            Stitch::Hand(stitch) => Ok((
                Method::Geometry,
                Found::PerMetre(stitch.ratio(&self.measures)?),
            )),
            Stitch::Item(item) => {
                let one = item.thread(&self.measures)?;
                Ok((Method::Geometry, Found::Counted(one.needle, one.under)))
            }
            Stitch::Unknown(class) => Err(SeamError::Unknown {
                stitch: class.to_string(),
                why: "no ratio and no formula for it was found".to_owned(),
            }),
        }
    }

    fn by_machine(&self, stitch: &MachineStitch) -> Result<(Method, Found), SeamError> {
        let Measures {
            density,
            thickness,
            width,
            ..
        } = self.measures;
        if let Some(formula) = stitch.formula {
            let width = if formula.needs_width() {
                width
            } else {
                Some(Micrometres::ZERO)
            };
            if let (Some(density), Some(thickness), Some(width)) = (density, thickness, width) {
                let ratio = formula
                    .ratio(density, thickness, width)
                    .ok_or(SeamError::Overflow)?;
                let own = stitch.formula_status == Printed::OwnGeometry;
                let method = if own {
                    Method::Geometry
                } else {
                    Method::Formula
                };
                return Ok((method, Found::PerMetre(ratio)));
            }
        }
        if let Some(ratio) = stitch.ratio() {
            return Ok((Method::Ratio, Found::PerMetre(ratio)));
        }
        let why = match stitch.formula {
            Some(formula) if formula.needs_width() => {
                "no ratio was found, and its formula needs per-cm (or step), thickness and width"
            }
            Some(_) => "no ratio was found, and its formula needs per-cm (or step) and thickness",
            None => "no ratio and no formula for it was found",
        };
        Err(SeamError::Unknown {
            stitch: stitch.class.to_string(),
            why: why.to_owned(),
        })
    }

    fn split(&self, found: &Found) -> Split {
        if self.stitch.threads().1 == 0 {
            return Split::OneThread;
        }
        match (found, self.needle_share, self.stitch) {
            (Found::Both(..), _, _) => Split::Measured,
            // Both threads of an item run alike.
            (Found::Counted(..), _, _) => Split::Table(50, Printed::OwnGeometry),
            (_, Some(share), _) => Split::Given(share),
            (
                _,
                None,
                Stitch::Machine(MachineStitch {
                    share: Some(share), ..
                }),
            ) => Split::Table(share.needle_percent, share.status),
            (_, None, Stitch::Item(_)) => Split::Table(50, Printed::OwnGeometry),
            (_, None, _) => Split::Unknown,
        }
    }
}

impl Split {
    /// The needle thread's part, and the whole.
    const fn needle_part(self) -> (i64, i64) {
        match self {
            Self::OneThread | Self::Measured | Self::Unknown => (1, 1),
            Self::Given(share) => (share.get(), PARTS_PER_MILLION),
            Self::Table(percent, _) => (percent, 100),
        }
    }
}
