//! Lengths of cloth and interlining: the pre-wash sum.

use crate::{
    cloth,
    ledger::Rectangle,
    quantity::{Micrometres, QuantityError},
    setting::Basis,
    shrinkage::{Chosen, Preparation, Ratio, ShrinkageError},
};

/// A washed length at a usable washed width; no width: any cloth will do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WidthLength {
    /// Usable width after preparation that the length is for.
    pub width: Option<Micrometres>,
    /// Washed length.
    pub length: Micrometres,
}

/// What one unit of a need asks of cloth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothDemand {
    /// One length, or several by width.
    pub lengths: Vec<WidthLength>,
    /// What the cloth must have been through when it is cut; `None`: not decided.
    pub preparation: Option<Preparation>,
}

/// What a piece offers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClothFacts {
    /// Its widths as they are now.
    pub rectangle: Rectangle,
    /// What was done to it; `None`: raw.
    pub preparation: Option<Preparation>,
    /// The shrinkage that counts for the demanded preparation.
    pub shrinkage: Result<Chosen, ShrinkageError>,
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
    /// Width it is for.
    pub width: Option<Micrometres>,
    /// Usable width that the piece has when it is cut.
    pub usable: Micrometres,
    /// Raw or prepared.
    pub basis: Basis,
    /// Shrinkage used, on a raw piece.
    pub shrinkage: Option<Chosen>,
    /// Length before allowance and rounding.
    pub bare: Micrometres,
    /// The rule applied.
    pub rule: CuttingRule,
    /// Length that the unit takes off the piece.
    pub takes: Micrometres,
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
    #[error("how it shrinks is unknown: {0}")]
    ShrinkageUnknown(ShrinkageError),
    /// Too narrow after preparation.
    #[error("{} usable{after}, the need asks for {}", .usable.show_width(crate::quantity::Units::Metric), .wanted.show_width(crate::quantity::Units::Metric))]
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
    /// Outside the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

/// The pre-wash sum: washed length ÷ what is left of a length, plus the end allowance, rounded up to the
/// cutting step; on a prepared piece without the division.
///
/// - Formula: `F / (1 − s)` from `left = raw × (1 − s)`, never `F × (1 + s)`; rounded up to a micrometre.
/// - Width: `(full − selvedges) × (1 − s crosswise)`, rounded down; unknown crosswise shrinkage counts as
///   none and is said by the caller ([`ClothFit::width_is_assumed`]).
/// - Source: algebra; ISO 5077:2007 for the change that a wash test measures.
///
/// # Errors
/// [`Misfit`], in the order of its variants.
pub fn fit_cloth(demand: &ClothDemand, facts: &ClothFacts, rule: CuttingRule) -> Result<ClothFit, Misfit> {
    let (basis, chosen) = basis(demand, facts)?;
    let crosswise = chosen.as_ref().and_then(|chosen| chosen.width).unwrap_or(Ratio::UNCHANGED);
    let usable = crosswise.washed_from(facts.rectangle.usable())?;
    let fitting = demand.lengths.iter().filter(|entry| entry.width.is_none_or(|width| width <= usable));
    let Some(entry) = fitting.min_by_key(|entry| entry.length) else {
        return Err(too_narrow(demand, usable, basis));
    };
    let lengthwise = chosen.as_ref().map_or(Ratio::UNCHANGED, |chosen| chosen.length);
    let bare = lengthwise.raw_for(entry.length)?;
    let takes = bare.plus(rule.end_allowance)?.round_up_to(rule.step)?;
    Ok(ClothFit {
        washed: entry.length,
        width: entry.width,
        usable,
        basis,
        shrinkage: chosen,
        bare,
        rule,
        takes,
    })
}

impl ClothFit {
    /// True when the crosswise shrinkage of a raw piece is unknown and was taken as none.
    #[must_use]
    pub fn width_is_assumed(&self) -> bool {
        self.shrinkage.as_ref().is_some_and(|chosen| chosen.width.is_none())
    }
}

fn basis(demand: &ClothDemand, facts: &ClothFacts) -> Result<(Basis, Option<Chosen>), Misfit> {
    match (demand.preparation, facts.preparation) {
        (None, Some(_)) => Ok((Basis::Prepared, None)),
        (None, None) => Err(Misfit::Undecided),
        (Some(Preparation::None), None) => Ok((Basis::Prepared, None)),
        (Some(wanted), Some(is)) if is.same_kind(wanted) && is.cycles() >= wanted.cycles() => {
            Ok((Basis::Prepared, None))
        }
        (Some(wanted), Some(is)) => Err(Misfit::OtherPreparation { is, wanted }),
        (Some(_), None) => match &facts.shrinkage {
            Ok(chosen) => Ok((Basis::Raw, Some(chosen.clone()))),
            Err(error) => Err(Misfit::ShrinkageUnknown(error.clone())),
        },
    }
}

fn too_narrow(demand: &ClothDemand, usable: Micrometres, basis: Basis) -> Misfit {
    let narrowest =
        demand.lengths.iter().filter_map(|entry| entry.width.map(|width| (width, entry.length))).min();
    let (wanted, length) = narrowest.unwrap_or((Micrometres::ZERO, Micrometres::ZERO));
    let chart = cloth::convert(length, wanted, usable).map(|estimate| estimate.length);
    let after = if basis == Basis::Raw { " after preparation" } else { "" };
    Misfit::TooNarrow { usable, wanted, after, chart }
}
