//! Lengths that were worked out from a mass, worked out again when a figure behind them is corrected.

use crate::{
    cloth::{ClothError, length_by_mass},
    quantity::{Micrometres, Milligrams, MilligramsPerM2, QuantityError, Tex, fraction::Fraction},
    thread::length_on_reel,
};

/// Square micrometres in a square metre.
const UM2: i128 = 1_000_000_000_000;
/// Micrometres in a metre: tex are milligrams a metre.
const UM: i128 = 1_000_000;

/// What a length weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Cloth, by its area.
    Cloth {
        /// Mass per area.
        mass: MilligramsPerM2,
        /// Selvedge to selvedge.
        full_width: Micrometres,
    },
    /// Thread, by its count.
    Thread(Tex),
}

impl Weight {
    /// The length of a net mass, rounded down to a micrometre.
    ///
    /// # Errors
    /// As [`length_by_mass`] and [`length_on_reel`].
    pub fn length(self, net: Milligrams) -> Result<Micrometres, ClothError> {
        match self {
            Self::Cloth { mass, full_width } => length_by_mass(net, mass, full_width),
            Self::Thread(count) => Ok(length_on_reel(net, count)?),
        }
    }

    /// Milligrams of a length.
    fn of(self, length: Micrometres) -> Option<Fraction> {
        let um = i128::from(length.get());
        match self {
            Self::Cloth { mass, full_width } => {
                let one = i128::from(mass.get()).checked_mul(i128::from(full_width.get()))?;
                Fraction::new(one, UM2)?.times(um, 1)
            }
            Self::Thread(count) => {
                let (grams, kilometres) = count.parts();
                Fraction::new(um, UM)?.times(grams, kilometres)
            }
        }
    }

    /// The whole milligrams that come to this length, where some do.
    fn weighed(self, length: Micrometres) -> Option<Milligrams> {
        let net = Milligrams::new(self.of(length)?.ceil()?).ok()?;
        (self.length(net) == Ok(length)).then_some(net)
    }
}

/// A length that came from a mass by `was`, worked out from the same mass by `now`; the mass of the empty reel, which
/// had been taken off, is `heavier` than was thought (negative: lighter).
///
/// - Formula: the net mass by `was`, less `heavier`, by `now`.
/// - Rounding: down to a micrometre, as it was. Where the length is that of whole milligrams, it is their length.
///
/// ```
/// use ellwand_domain::{quantity::Micrometres, weighed::{Weight, length_anew}};
/// // 1.2 kg of 200 g/m² at 1.50 m are 4.00 m; of 250 g/m² they are 3.20 m (derived).
/// let by = |mass: &str| Weight::Cloth { mass: mass.parse().unwrap(), full_width: Micrometres::from_mm(1_500) };
/// let length = length_anew("4m".parse().unwrap(), by("200gsm"), by("250gsm"), 0);
/// assert_eq!(length.unwrap(), "3.2m".parse().unwrap());
/// ```
///
/// # Errors
/// [`QuantityError::NotPositive`] where nothing is left; beyond the limits of a length.
pub fn length_anew(
    length: Micrometres,
    was: Weight,
    now: Weight,
    heavier: i64,
) -> Result<Micrometres, ClothError> {
    let nothing = || QuantityError::NotPositive {
        text: "what is left of the mass".to_owned(),
    };
    let overflow = QuantityError::Overflow { limit: "10 000 km" };
    let anew = match was.weighed(length) {
        Some(net) => {
            now.length(Milligrams::new(net.get().saturating_sub(heavier)).map_err(|_| nothing())?)?
        }
        None => {
            let net = was
                .of(length)
                .and_then(|net| net.plus(Fraction::new(i128::from(heavier).saturating_neg(), 1)?));
            let one = now.of(Micrometres::METRE).and_then(Fraction::inverse);
            let metres = net
                .zip(one)
                .and_then(|(net, one)| net.times(one.numerator(), one.denominator()));
            let um = metres
                .and_then(|metres| metres.times(UM, 1))
                .and_then(Fraction::floor)
                .ok_or(overflow)?;
            Micrometres::new(um).map_err(|error| if um < 0 { nothing() } else { error })?
        }
    };
    if anew.is_zero() {
        Err(nothing().into())
    } else {
        Ok(anew)
    }
}
