//! Rigidity in other directions than those that were tested.

use crate::{quantity::QuantityError, setting::StiffnessWay as Way};

/// Parts of one in sine squared.
const ONE: i128 = 1_000_000_000_000;
/// Scale of roots of a rigidity: √(G·10¹²).
const UNDER_ROOT: i128 = 1_000_000_000_000;
/// cos 2° in 10⁻¹⁸ (0.999 390 827 019 095 730 …).
const COS_2: i128 = 999_390_827_019_095_730;
/// What roots are inverted by.
const INVERSE: i128 = 1_000_000_000_000_000_000_000_000_000;
const ATTO: i128 = 1_000_000_000_000_000_000;

const OVERFLOW: QuantityError = QuantityError::Overflow {
    limit: super::LIMIT,
};

/// A direction on the cloth: whole degrees from the lengthwise grain, 0 to 90.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Degrees(u8);

impl Degrees {
    /// Halfway.
    pub const BIAS: Self = Self(45);

    /// A direction; what lies beyond 90° is the mirror image of one here.
    #[must_use]
    pub const fn new(degrees: u8) -> Option<Self> {
        if degrees <= 90 {
            Some(Self(degrees))
        } else {
            None
        }
    }

    /// Whole degrees.
    #[must_use]
    pub const fn get(self) -> u8 {
        self.0
    }

    /// sin² in millionths of a millionth, from cos 2θ by Chebyshev's recursion.
    fn sine_squared(self) -> i128 {
        let (mut before, mut cosine) = (ATTO, COS_2);
        if self.0 == 0 {
            return 0;
        }
        for _ in 1..self.0 {
            let twice = COS_2
                .saturating_mul(2)
                .saturating_mul(cosine)
                .div_euclid(ATTO);
            (before, cosine) = (cosine, twice.saturating_sub(before));
        }
        // (1 − cos 2θ) / 2 in 10⁻¹⁸, brought to 10⁻¹² by the nearest: /2 000 000.
        ATTO.saturating_sub(cosine)
            .saturating_add(1_000_000)
            .div_euclid(2_000_000)
    }
}

/// A rigidity in one direction; nanonewton metres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Directed {
    /// The figure itself.
    pub rigidity_nnm: i64,
    /// In eight cloths of ten the measured figure lies between these; only for what Peirce's rule gives. Found on the
    /// bias; towards the grains it closes with sin²2θ (ours), for there nothing is computed.
    pub band_nnm: Option<(i64, i64)>,
    /// Where it comes from.
    pub way: Way,
}

/// Measured over computed bias rigidity, in hundredths: one cloth in ten lies below the first, one in ten above the
/// second. Found over the 31 cloths of the sample in `tests/domain/bending_sample.csv` (open data set of the "Drape
/// Tester", 2022); all its 618 cloths give 0.55 to 1.91.
pub const BIAS_BAND_HUNDREDTHS: (i64, i64) = (55, 237);

/// Rigidities along the grains of one cloth; nanonewton metres, above zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grains {
    /// Along the warp.
    pub lengthwise: i64,
    /// Along the weft.
    pub crosswise: i64,
    /// At 45° to both, when a strip was tested.
    pub bias: Option<i64>,
}

impl Grains {
    /// Rigidity in a direction, to the nearest nanonewton metre.
    ///
    /// Formula: 1/√G = cos²θ/√G₁ + sin²θ/√G₂ (Peirce's direction rule; from memory), between lengthwise and
    /// crosswise, or, when the bias was tested, between it and the nearer grain with the angle doubled.
    ///
    /// ```
    /// use ellwand_domain::stiffness::{Degrees, Grains};
    /// // 11.438 along and 178.73 µN·m across give 29.143 on the bias.
    /// let grains = Grains { lengthwise: 11_438, crosswise: 178_726, bias: None };
    /// assert_eq!(grains.at(Degrees::BIAS).unwrap().rigidity_nnm, 29_142);
    /// ```
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] far beyond any cloth, [`QuantityError::NotPositive`] for a rigidity of nothing.
    pub fn at(&self, direction: Degrees) -> Result<Directed, QuantityError> {
        let tested = |rigidity_nnm| {
            Ok(Directed {
                rigidity_nnm,
                band_nnm: None,
                way: Way::Tested,
            })
        };
        let between = |from: i64, to: i64, turned: u8| -> Result<Directed, QuantityError> {
            let rigidity_nnm = peirce(from, to, Degrees(turned))?;
            Ok(Directed {
                rigidity_nnm,
                band_nnm: None,
                way: Way::Between,
            })
        };
        match (direction.0, self.bias) {
            (0, _) => tested(self.lengthwise),
            (90, _) => tested(self.crosswise),
            (45, Some(bias)) => tested(bias),
            (low @ 1..45, Some(bias)) => between(self.lengthwise, bias, low.saturating_mul(2)),
            (high, Some(bias)) => between(
                bias,
                self.crosswise,
                high.saturating_sub(45).saturating_mul(2),
            ),
            (_, None) => {
                let rigidity_nnm = peirce(self.lengthwise, self.crosswise, direction)?;
                let bias = peirce(self.lengthwise, self.crosswise, Degrees::BIAS)?;
                let (low, high) = BIAS_BAND_HUNDREDTHS;
                let side = |share| leaning(rigidity_nnm, bias, hundredths(bias, share)?, direction);
                let band = (side(low)?.min(rigidity_nnm), side(high)?.max(rigidity_nnm));
                Ok(Directed {
                    rigidity_nnm,
                    band_nnm: Some(band),
                    way: Way::Peirce,
                })
            }
        }
    }

    /// Overall rigidity √(G₁·G₂), to the nearest nanonewton metre (standard usage; from memory).
    #[must_use]
    pub fn overall(&self) -> i64 {
        let product = i128::from(self.lengthwise).saturating_mul(i128::from(self.crosswise));
        i64::try_from(root_nearest(product)).unwrap_or(i64::MAX)
    }
}

/// Rigidity of two layers that can slip on each other: the sum, which is the least. Layers that are stuck together
/// are stiffer. (Bending of layers without friction; derived.)
///
/// # Errors
/// [`QuantityError::Overflow`].
pub fn layers_that_slip(one: i64, other: i64) -> Result<i64, QuantityError> {
    one.checked_add(other).ok_or(OVERFLOW)
}

fn hundredths(nnm: i64, share: i64) -> Result<i64, QuantityError> {
    let value = crate::quantity::fraction::Fraction::new(i128::from(nnm), 100);
    value
        .and_then(|value| value.times(i128::from(share), 1)?.nearest())
        .ok_or(OVERFLOW)
}

/// What a rigidity in a direction would be if the bias were another than computed:
/// 1/√G' = 1/√G + sin²2θ·(1/√bias' − 1/√bias).
fn leaning(nnm: i64, bias: i64, other_bias: i64, direction: Degrees) -> Result<i64, QuantityError> {
    if direction == Degrees::BIAS {
        return Ok(other_bias);
    }
    let inverse = |nnm: i64| {
        let root = i128::from(nnm).checked_mul(UNDER_ROOT).map(root_nearest);
        root.and_then(|root| INVERSE.checked_div(root))
            .ok_or(OVERFLOW)
    };
    let doubled = direction.0.saturating_mul(2);
    let weight = Degrees(doubled.min(180_u8.saturating_sub(doubled))).sine_squared();
    let lean = inverse(other_bias)?
        .saturating_sub(inverse(bias)?)
        .saturating_mul(weight)
        .div_euclid(ONE);
    let root = INVERSE
        .checked_div(inverse(nnm)?.saturating_add(lean))
        .ok_or(OVERFLOW)?;
    let square = root
        .checked_mul(root)
        .ok_or(OVERFLOW)?
        .div_euclid(UNDER_ROOT);
    i64::try_from(square).map_err(|_| OVERFLOW)
}

/// Between one grain (0°) and another (90°): √G = √G₁·√G₂ / (cos²θ·√G₂ + sin²θ·√G₁), squared.
fn peirce(from: i64, to: i64, direction: Degrees) -> Result<i64, QuantityError> {
    if from <= 0 || to <= 0 {
        return Err(QuantityError::NotPositive {
            text: "rigidity 0".to_owned(),
        });
    }
    let root = |nnm: i64| {
        i128::from(nnm)
            .checked_mul(UNDER_ROOT)
            .map(root_nearest)
            .ok_or(OVERFLOW)
    };
    let (first, second) = (root(from)?, root(to)?);
    let sine = direction.sine_squared();
    let above = first
        .checked_mul(second)
        .and_then(|product| product.checked_mul(ONE))
        .ok_or(OVERFLOW)?;
    let left = ONE.saturating_sub(sine).checked_mul(second);
    let below = left
        .zip(sine.checked_mul(first))
        .and_then(|(a, b)| a.checked_add(b))
        .ok_or(OVERFLOW)?;
    let mixed = above.checked_div(below).ok_or(OVERFLOW)?;
    let square = mixed.checked_mul(mixed).ok_or(OVERFLOW)?;
    let nearest = square
        .saturating_add(UNDER_ROOT.div_euclid(2))
        .div_euclid(UNDER_ROOT);
    // Roundings of roots must not lead past the grains themselves.
    Ok(i64::try_from(nearest)
        .map_err(|_| OVERFLOW)?
        .clamp(from.min(to), from.max(to)))
}

/// Square root to the nearest whole; 0 for what is negative.
fn root_nearest(square: i128) -> i128 {
    let floor = square.checked_isqrt().unwrap_or(0);
    // (floor + ½)² = floor² + floor + ¼.
    let rest = square.saturating_sub(floor.saturating_mul(floor));
    if rest > floor {
        floor.saturating_add(1)
    } else {
        floor
    }
}
