//! Lengths of cloth and interlining: the pre-wash sum.

use super::{
    parts::{KeptRung, Laid, Parts, RowsError},
    repeats::Repeats,
};
use crate::{
    certainty::Certainty,
    cloth,
    code::LayCode,
    ledger::Rectangle,
    quantity::{Micrometres, QuantityError, Units},
    setting::{Basis, LengthBy},
    shrinkage::{Chosen, Preparation, Progress, Ratio, ShrinkageError, Source},
};

/// A washed length at a usable washed width; no width: any cloth will do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WidthLength {
    /// Usable width after preparation that the length is for.
    pub width: Option<Micrometres>,
    /// Washed length.
    pub length: Micrometres,
}

/// How the length of a unit is said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lengths {
    /// One length, or several by width.
    ByWidth(Vec<WidthLength>),
    /// Parts, whose length follows from the width they are laid at.
    Parts(Parts),
}

/// What one unit of a need asks of cloth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothDemand {
    /// How much.
    pub lengths: Lengths,
    /// Only a part of the unit: no more than this washed length.
    pub most: Option<Micrometres>,
    /// What the cloth must have been through when it is cut; `None`: not decided.
    pub preparation: Option<Preparation>,
}

/// Usable widths at which the length of parts is shown before a piece is known: interlining of 90 cm, cloth of 140 cm
/// (common practice).
const TOLD_AT: [Micrometres; 2] = [Micrometres::from_mm(900), Micrometres::from_mm(1_400)];

/// Parts at the width that tells them.
fn shown_lay(parts: &Parts) -> Result<Option<Laid>, QuantityError> {
    let widest = parts.widest()?;
    let width = TOLD_AT
        .into_iter()
        .find(|width| widest <= *width)
        .unwrap_or(widest);
    match parts.laid(width) {
        Ok(laid) => Ok(Some(laid)),
        Err(RowsError::Quantity(error)) => Err(error),
        Err(RowsError::TooWide { .. }) => Ok(None),
    }
}

/// Of the lay that was kept last the widest rung.
fn shown_kept(parts: &Parts) -> Option<KeptRung> {
    let rungs = parts.kept().iter();
    rungs.max_by_key(|rung| (rung.lay, rung.width)).copied()
}

impl ClothDemand {
    /// The parts, where it is said by them.
    #[must_use]
    pub const fn parts(&self) -> Option<&Parts> {
        match &self.lengths {
            Lengths::ByWidth(_) => None,
            Lengths::Parts(parts) => Some(parts),
        }
    }

    /// The kept lay whose length [`Self::shown`] is.
    #[must_use]
    pub fn shown_kept(&self) -> Option<LayCode> {
        self.parts().and_then(shown_kept).map(|kept| kept.lay)
    }

    /// Lets only the lays of its parts count that what names this lay, or none, was made by.
    pub fn rest_on(&mut self, lay: Option<LayCode>) {
        if let Lengths::Parts(parts) = &mut self.lengths {
            parts.rest_on(lay);
        }
    }

    /// Adds the kept lays of its parts.
    pub fn keep(&mut self, kept: Vec<KeptRung>) {
        if let Lengths::Parts(parts) = &mut self.lengths {
            *parts = parts.clone().with_kept(kept);
        }
    }

    /// Lengths by width; none where it is said by parts.
    #[must_use]
    pub fn by_width(&self) -> &[WidthLength] {
        match &self.lengths {
            Lengths::ByWidth(lengths) => lengths,
            Lengths::Parts(_) => &[],
        }
    }

    /// The length before a piece is known: the first that was said, the widest of the lay that was kept last, the own lay of parts, or that of the parts laid at 90 cm, at 140 cm
    /// where they are wider, and at their own width where they are wider still. It tells a need; a piece decides.
    ///
    /// # Errors
    /// [`QuantityError::TooLarge`] beyond the longest length.
    pub fn shown(&self) -> Result<Option<WidthLength>, QuantityError> {
        let parts = match &self.lengths {
            Lengths::ByWidth(lengths) => return Ok(lengths.first().copied()),
            Lengths::Parts(parts) => parts,
        };
        if let Some(kept) = shown_kept(parts) {
            return Ok(Some(kept.into()));
        }
        if let Some(own) = parts.own() {
            return Ok(Some(own));
        }
        Ok(shown_lay(parts)?.map(|laid| WidthLength {
            width: Some(laid.usable),
            length: laid.length,
        }))
    }

    /// Whose length [`Self::shown`] is; nothing where it is not said by parts.
    ///
    /// # Errors
    /// As [`Self::shown`].
    pub fn shown_by(&self) -> Result<Option<LengthBy>, QuantityError> {
        match self.parts() {
            None => Ok(None),
            Some(parts) if shown_kept(parts).is_some() => Ok(Some(LengthBy::Kept)),
            Some(parts) if parts.own().is_some() => Ok(Some(LengthBy::OwnLay)),
            Some(parts) => Ok(shown_lay(parts)?.map(|laid| laid.by)),
        }
    }

    /// The washed length of a unit on cloth that is `usable` wide when it is cut; where none is for so narrow cloth, the
    /// shortest of its lengths.
    ///
    /// # Errors
    /// As [`Self::shown`].
    pub fn length_at(&self, usable: Micrometres) -> Result<Option<Micrometres>, QuantityError> {
        self.length_by(usable, |parts| parts.laid(usable))
    }

    /// The same for what names a kept lay, or none ([`Parts::uses_of`]).
    ///
    /// # Errors
    /// As [`Self::shown`].
    pub fn length_on(
        &self,
        lay: Option<LayCode>,
        usable: Micrometres,
    ) -> Result<Option<Micrometres>, QuantityError> {
        self.length_by(usable, |parts| parts.laid_by(usable, parts.uses_of(lay)))
    }

    fn length_by(
        &self,
        usable: Micrometres,
        laid: impl Fn(&Parts) -> Result<Laid, RowsError>,
    ) -> Result<Option<Micrometres>, QuantityError> {
        let length = match &self.lengths {
            Lengths::ByWidth(lengths) => lengths
                .iter()
                .filter(|entry| entry.width.is_none_or(|width| width <= usable))
                .map(|entry| entry.length)
                .min(),
            Lengths::Parts(parts) => match laid(parts) {
                Ok(laid) => Some(laid.length),
                Err(RowsError::TooWide { .. }) => None,
                Err(RowsError::Quantity(error)) => return Err(error),
            },
        };
        Ok(match length {
            Some(length) => Some(length),
            None => self.shortest()?,
        })
    }

    /// The shortest that it may be: the least of its lengths, or what is shown of its parts.
    ///
    /// # Errors
    /// As [`Self::shown`].
    pub fn shortest(&self) -> Result<Option<Micrometres>, QuantityError> {
        match &self.lengths {
            Lengths::ByWidth(lengths) => Ok(lengths.iter().map(|entry| entry.length).min()),
            Lengths::Parts(_) => Ok(self.shown()?.map(|entry| entry.length)),
        }
    }
}

/// What a piece offers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothFacts {
    /// Its widths as they are now.
    pub rectangle: Rectangle,
    /// What was done to it; `None`: raw.
    pub preparation: Option<Preparation>,
    /// The shrinkage that counts for what is still to be done of the demanded preparation ([`washes_done`]).
    pub shrinkage: Result<Chosen, ShrinkageError>,
}

/// Washes that a cloth has had of those that its preparation asks for.
#[must_use]
pub fn washes_done(wanted: Option<Preparation>, done: Option<Preparation>) -> u8 {
    match wanted.map(|wanted| wanted.progress(done)) {
        Some(Progress::ToDo { washes_done }) => washes_done,
        _ => 0,
    }
}

/// How the workshop cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CuttingRule {
    /// Lengths are rounded up to it.
    pub step: Micrometres,
    /// Added to each length.
    pub end_allowance: Micrometres,
}

/// The pre-wash sum of one unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothFit {
    /// Washed length asked for at the width that counts.
    pub washed: Micrometres,
    /// Width it is for; of parts, what their lay or their widest row takes of it.
    pub width: Option<Micrometres>,
    /// How its parts lie, where it is said by them.
    pub laid: Option<Laid>,
    /// Usable width that the piece has when it is cut.
    pub usable: Micrometres,
    /// Before or after its preparation.
    pub basis: Basis,
    /// What was done to it so far; `None`: raw.
    pub done: Option<Preparation>,
    /// Shrinkage used, before its preparation.
    pub shrinkage: Option<Chosen>,
    /// The rule applied.
    pub rule: CuttingRule,
    /// Least length of the piece that still gives the washed length and its end allowance.
    pub least: Micrometres,
    /// The same, rounded up to the cutting step: what a new promise takes where the cloth is there.
    pub takes: Micrometres,
    /// Whole repeats that both are, where the need matches.
    pub repeats: Option<Repeats>,
}

/// Why a piece does not serve.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Misfit {
    /// The need does not say how the cloth is prepared, and the piece is raw.
    #[error("how it is prepared is not decided, so the length before it is unknown")]
    Undecided,
    /// The piece was prepared in another way.
    #[error("it was {is}, the need asks for {wanted}")]
    OtherPreparation {
        /// What was done.
        is: Preparation,
        /// What is asked.
        wanted: Preparation,
    },
    /// Nothing says how it shrinks.
    #[error("{0}")]
    ShrinkageUnknown(ShrinkageError),
    /// Too narrow after preparation.
    #[error("{} usable{after}, the need asks for {}", .usable.show_width(Units::Metric), .wanted.show_width(Units::Metric))]
    TooNarrow {
        /// Usable width when it is cut.
        usable: Micrometres,
        /// Width asked for.
        wanted: Micrometres,
        /// ` after washing`, or nothing.
        after: &'static str,
        /// Length that the published width chart gives for it: an estimate.
        chart: Option<Micrometres>,
    },
    /// A part is wider than the cloth after preparation.
    #[error(
        "{} usable{after}, the part {part} takes {}",
        .usable.show_width(Units::Metric), .across.show_width(Units::Metric)
    )]
    PartTooWide {
        /// Which.
        part: String,
        /// What it takes of the width.
        across: Micrometres,
        /// Usable width when it is cut.
        usable: Micrometres,
        /// ` after preparation`, or nothing.
        after: &'static str,
    },
    /// Outside the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

impl Misfit {
    /// The same of cloth that was taken not to shrink.
    const fn at_best(mut self) -> Self {
        if let Self::TooNarrow { after, .. } | Self::PartTooWide { after, .. } = &mut self {
            *after = " even if it does not shrink";
        }
        self
    }

    /// In the units that the workshop measures with.
    #[must_use]
    pub fn show(&self, units: Units) -> String {
        match self {
            Self::TooNarrow {
                usable,
                wanted,
                after,
                ..
            } => {
                let (usable, wanted) = usable.show_width_beside(*wanted, units);
                format!("{usable} usable{after}, the need asks for {wanted}")
            }
            Self::PartTooWide {
                part,
                across,
                usable,
                after,
            } => {
                let (usable, across) = usable.show_width_beside(*across, units);
                format!("{usable} usable{after}, the part {part} takes {across}")
            }
            _ => self.to_string(),
        }
    }
}

/// The pre-wash sum: washed length and end allowance ÷ what is left of a length, rounded up to the cutting step; on a
/// prepared piece without the division.
///
/// - Formula: `(F + a) / (1 − s)` from `left = raw × (1 − s)`, never `F × (1 + s)`; rounded up to a micrometre. The
///   allowance is cut after the wash, so that it shrinks, too: a raw length that the wash leaves as predicted still serves.
/// - Parts are laid across the usable width ([`Parts::laid`]).
/// - Between two washes the same is done with the step that is left, rounded down to a micrometre: what the first wash left of
///   the raw length as predicted was rounded down, too.
/// - Width: `(full − selvedges) × (1 − s crosswise)`, rounded down; unknown crosswise shrinkage counts as
///   none and is said by the caller ([`ClothFit::width_is_assumed`]).
/// - Source: algebra; ISO 5077:2007 for the change that a wash test measures.
///
/// # Errors
/// [`Misfit`], in the order of its variants.
pub fn fit_cloth(
    demand: &ClothDemand,
    facts: &ClothFacts,
    rule: CuttingRule,
) -> Result<ClothFit, Misfit> {
    let (basis, chosen) = chosen_for(demand.preparation, facts)?;
    let crosswise = chosen
        .as_ref()
        .and_then(|chosen| chosen.width)
        .unwrap_or(Ratio::UNCHANGED);
    let usable = crosswise.washed_from(facts.rectangle.usable())?;
    let (entry, laid) = match &demand.lengths {
        Lengths::ByWidth(lengths) => {
            let fitting = lengths
                .iter()
                .filter(|entry| entry.width.is_none_or(|width| width <= usable));
            let entry = fitting.min_by_key(|entry| entry.length);
            (
                *entry.ok_or_else(|| too_narrow(lengths, usable, basis))?,
                None,
            )
        }
        Lengths::Parts(parts) => {
            let laid = parts
                .laid(usable)
                .map_err(|error| part_misfit(error, usable, basis))?;
            (
                WidthLength {
                    width: Some(laid.width),
                    length: laid.length,
                },
                Some(laid),
            )
        }
    };
    let washed = demand
        .most
        .map_or(entry.length, |most| most.min(entry.length));
    let lengthwise = chosen
        .as_ref()
        .map_or(Ratio::UNCHANGED, |chosen| chosen.length);
    let with_allowance = washed.plus(rule.end_allowance)?;
    let least = match washes_done(demand.preparation, facts.preparation) {
        0 => lengthwise.raw_for(with_allowance)?,
        _ => with_allowance.scale_down(lengthwise.before(), lengthwise.after())?,
    };
    let takes = least.round_up_to(rule.step)?;
    let done = facts.preparation;
    Ok(ClothFit {
        washed,
        width: entry.width,
        laid,
        usable,
        basis,
        done,
        shrinkage: chosen,
        rule,
        least,
        takes,
        repeats: None,
    })
}

/// The same sum as if nothing shrank: what the piece can give at best, whatever a wash does to it.
///
/// # Errors
/// As [`fit_cloth`], but never for an unknown shrinkage.
pub fn fit_unshrunk(
    demand: &ClothDemand,
    facts: &ClothFacts,
    rule: CuttingRule,
) -> Result<ClothFit, Misfit> {
    let unshrunk = Chosen {
        length: Ratio::UNCHANGED,
        width: Some(Ratio::UNCHANGED),
        certainty: Certainty::Estimated,
        width_certainty: Certainty::Estimated,
        kind: Source::NoPreparation,
        source: String::new(),
        width_source: String::new(),
    };
    let facts = ClothFacts {
        shrinkage: Ok(unshrunk),
        ..facts.clone()
    };
    fit_cloth(demand, &facts, rule).map_err(Misfit::at_best)
}

/// The washed length that a length of a piece gives, and its usable width then; where what is to be done to it is not known, as it
/// is now.
///
/// - Rounding: down to a micrometre.
///
/// # Errors
/// [`QuantityError`] beyond the limits of a length.
pub fn washed_of(
    preparation: Option<Preparation>,
    facts: &ClothFacts,
    length: Micrometres,
) -> Result<(Micrometres, Micrometres), QuantityError> {
    let usable = facts.rectangle.usable();
    match chosen_for(preparation, facts) {
        Ok((_, Some(chosen))) => Ok((
            chosen.length.washed_from(length)?,
            chosen
                .width
                .unwrap_or(Ratio::UNCHANGED)
                .washed_from(usable)?,
        )),
        Ok((_, None)) | Err(_) => Ok((length, usable)),
    }
}

impl ClothFit {
    /// True when the crosswise shrinkage of a raw piece is unknown and was taken as none.
    #[must_use]
    pub fn width_is_assumed(&self) -> bool {
        self.shrinkage
            .as_ref()
            .is_some_and(|chosen| chosen.width.is_none())
    }
}

impl ClothFit {
    /// A shorter length by the published width chart for a piece that is wider than the width asked for; an estimate.
    /// Nothing where parts were laid at the piece's own width.
    #[must_use]
    pub fn shorter_by_chart(&self) -> Option<Micrometres> {
        let width = self
            .width
            .filter(|width| self.laid.is_none() && *width < self.usable)?;
        let estimate = cloth::convert(self.washed, width, self.usable)?;
        Some(estimate.length).filter(|length| *length < self.washed)
    }
}

/// What is still done to a piece before it is cut, and how it shrinks by that.
fn chosen_for(
    preparation: Option<Preparation>,
    facts: &ClothFacts,
) -> Result<(Basis, Option<Chosen>), Misfit> {
    let Some(wanted) = preparation else {
        return facts
            .preparation
            .map(|_| (Basis::Prepared, None))
            .ok_or(Misfit::Undecided);
    };
    match (wanted.progress(facts.preparation), facts.preparation) {
        (Progress::Elsewhere, Some(is)) => Err(Misfit::OtherPreparation { is, wanted }),
        (Progress::Done | Progress::Elsewhere, _) => Ok((Basis::Prepared, None)),
        (Progress::ToDo { .. }, done) => match &facts.shrinkage {
            Ok(chosen) if done == Some(Preparation::Steamed) => {
                Ok((Basis::Raw, Some(chosen.clone().after_steaming())))
            }
            Ok(chosen) => Ok((Basis::Raw, Some(chosen.clone()))),
            Err(error) => Err(Misfit::ShrinkageUnknown(error.clone())),
        },
    }
}

const fn after(basis: Basis) -> &'static str {
    match basis {
        Basis::Raw => " after preparation",
        Basis::Prepared => "",
    }
}

fn too_narrow(lengths: &[WidthLength], usable: Micrometres, basis: Basis) -> Misfit {
    let narrowest = lengths
        .iter()
        .filter_map(|entry| entry.width.map(|width| (width, entry.length)))
        .min();
    let (wanted, length) = narrowest.unwrap_or((Micrometres::ZERO, Micrometres::ZERO));
    let chart = cloth::convert(length, wanted, usable).map(|estimate| estimate.length);
    Misfit::TooNarrow {
        usable,
        wanted,
        after: after(basis),
        chart,
    }
}

fn part_misfit(error: RowsError, usable: Micrometres, basis: Basis) -> Misfit {
    match error {
        RowsError::TooWide { name, across } => Misfit::PartTooWide {
            part: name,
            across,
            usable,
            after: after(basis),
        },
        RowsError::Quantity(error) => error.into(),
    }
}
