//! Reels: what is wound on them, and one length shared over several.

use crate::quantity::{Micrometres, Milligrams, QuantityError, Units, exact};

/// Most reels that one line or need names.
const REELS_MAX: i64 = 1_000;

/// Share of a length that two figures for it may differ by.
const APART_PERCENT: i128 = 5;

/// Why a weighing or a number of reels was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReelError {
    /// The scales show nothing.
    #[error("{} g is not a mass: even an empty {holder} weighs something", .gross.decimal_g())]
    NothingWeighed {
        /// What was weighed.
        gross: Milligrams,
        /// `reel` or `core`.
        holder: &'static str,
    },
    /// Less than the reel alone.
    #[error("{} g in all is less than the empty {what}, {} g", .gross.decimal_g(), .tare.decimal_g())]
    LighterThanTare {
        /// What was weighed.
        gross: Milligrams,
        /// What the empty reel or core, or all reels together, weigh.
        tare: Milligrams,
        /// `reel`, `3 reels`, `core`.
        what: String,
    },
    /// No reel at all, or too many to be meant.
    #[error("{reels} reels is not possible: give from 1 to {most}", most = REELS_MAX)]
    Number {
        /// What was requested.
        reels: i64,
    },
    /// A length too short to be shared.
    #[error("{length} is too little for {reels} reels", length = .length.show_thread(Units::Metric))]
    TooShort {
        /// The length.
        length: Micrometres,
        /// Reels.
        reels: i64,
    },
    /// Beyond the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

fn check(reels: i64) -> Result<(), ReelError> {
    if (1..=REELS_MAX).contains(&reels) {
        Ok(())
    } else {
        Err(ReelError::Number { reels })
    }
}

/// Mass of the thread alone: what was weighed less so many empty reels. Nothing for an empty reel, which weighs what it weighs.
///
/// # Errors
/// [`ReelError::NothingWeighed`] at 0 g, [`ReelError::LighterThanTare`], [`ReelError::Number`].
pub fn net_of(gross: Milligrams, tare: Milligrams, reels: i64) -> Result<Milligrams, ReelError> {
    check(reels)?;
    let tare = Milligrams::new(exact::mul_div_nearest(tare.get(), reels, 1)?)?;
    net(gross, tare, "reel", || {
        if reels == 1 {
            "reel".to_owned()
        } else {
            format!("{reels} reels")
        }
    })
}

/// Mass of the cloth alone: what was weighed less the core that it is rolled on.
///
/// ```
/// use ellwand_domain::thread::net_of_roll;
/// let net = net_of_roll("5.9kg".parse().unwrap(), "500g".parse().unwrap()).unwrap();
/// assert_eq!(net.decimal_g(), "5400");
/// ```
///
/// # Errors
/// [`ReelError::NothingWeighed`] at 0 g, [`ReelError::LighterThanTare`].
pub fn net_of_roll(gross: Milligrams, tare: Milligrams) -> Result<Milligrams, ReelError> {
    net(gross, tare, "core", || "core".to_owned())
}

fn net(
    gross: Milligrams,
    tare: Milligrams,
    holder: &'static str,
    what: impl Fn() -> String,
) -> Result<Milligrams, ReelError> {
    if gross == Milligrams::ZERO {
        return Err(ReelError::NothingWeighed { gross, holder });
    }
    let net = gross.get().saturating_sub(tare.get());
    if net < 0 {
        return Err(ReelError::LighterThanTare {
            gross,
            tare,
            what: what(),
        });
    }
    Ok(Milligrams::new(net)?)
}

/// What each of several reels gives when they run at once and share a length: the length / reels, rounded up to a whole
/// micrometre, so that the last one does not run out.
///
/// ```
/// use ellwand_domain::thread::on_each_reel;
/// // 200 m over the four reels of an overlock: 50 m of each (derived).
/// assert_eq!(on_each_reel("200m".parse().unwrap(), 4).unwrap().get(), 50_000_000);
/// ```
///
/// # Errors
/// [`ReelError::Number`].
pub fn on_each_reel(length: Micrometres, reels: i64) -> Result<Micrometres, ReelError> {
    check(reels)?;
    Ok(Micrometres::new(exact::mul_div_ceil(
        length.get(),
        1,
        reels,
    )?)?)
}

/// What several equal reels hold together.
///
/// # Errors
/// [`ReelError::Number`]; beyond the longest length.
pub fn on_all_reels(each: Micrometres, reels: i64) -> Result<Micrometres, ReelError> {
    check(reels)?;
    Ok(Micrometres::new(exact::mul_div_nearest(
        each.get(),
        reels,
        1,
    )?)?)
}

/// True where two figures for the same thread differ by more than 5 % of the stated one: reels are wound and counts are spun to
/// a few per cent (common practice, from memory), so that less is no contradiction.
///
/// ```
/// use ellwand_domain::thread::far_apart;
/// let stated = "1000m".parse().unwrap();
/// assert!(!far_apart(stated, "1050m".parse().unwrap()) && far_apart(stated, "1050.01m".parse().unwrap()));
/// assert!(!far_apart(stated, "950m".parse().unwrap()) && far_apart(stated, "949.99m".parse().unwrap()));
/// ```
#[must_use]
pub fn far_apart(stated: Micrometres, other: Micrometres) -> bool {
    let apart = i128::from(stated.get().abs_diff(other.get()));
    apart.saturating_mul(100) > i128::from(stated.get()).saturating_mul(APART_PERCENT)
}

/// A length that came on several reels alike, reel by reel: the same on each but for single micrometres, which the first
/// ones get, so that they add up to it.
///
/// # Errors
/// [`ReelError::Number`]; [`ReelError::TooShort`] where a reel would be empty.
pub fn over_reels(length: Micrometres, reels: i64) -> Result<Vec<Micrometres>, ReelError> {
    check(reels)?;
    let each = exact::mul_div_floor(length.get(), 1, reels)?;
    if each == 0 {
        return Err(ReelError::TooShort { length, reels });
    }
    let more = length.get().checked_rem(reels).unwrap_or(0);
    let one = |reel: i64| Micrometres::new(each.saturating_add(i64::from(reel < more)));
    Ok((0..reels).map(one).collect::<Result<_, _>>()?)
}
