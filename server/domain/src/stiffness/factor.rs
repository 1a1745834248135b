//! What turning a part makes of its stiffness: a factor, printed with three figures.

use std::fmt;

/// One rigidity over another. Prints `15.6`, `0.0641`, `1.00`: three figures, the last one rounded to the nearest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Factor {
    to: i64,
    from: i64,
}

impl Factor {
    /// From one rigidity to another; nothing unless both are above zero.
    #[must_use]
    pub const fn new(from: i64, to: i64) -> Option<Self> {
        if from > 0 && to > 0 {
            Some(Self { to, from })
        } else {
            None
        }
    }
}

impl fmt::Display for Factor {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (to, from) = (i128::from(self.to), i128::from(self.from));
        let mut scale = 1_i128;
        let mut digits = 0_u32;
        // As many digits after the point as give a figure of 100 or more.
        let at = |scale: i128| {
            let twice = to
                .saturating_mul(scale)
                .saturating_mul(2)
                .saturating_add(from);
            twice
                .checked_div(from.saturating_mul(2))
                .unwrap_or(i128::MAX)
        };
        while at(scale) < 100 && digits < 6 {
            scale = scale.saturating_mul(10);
            digits = digits.saturating_add(1);
        }
        // 99.96 has become 1 000 tenths: 100 says it with three figures.
        while at(scale) >= 1_000 && digits > 0 {
            scale = scale.div_euclid(10);
            digits = digits.saturating_sub(1);
        }
        let figure = at(scale);
        let (whole, part) = (figure.div_euclid(scale), figure.rem_euclid(scale));
        if digits == 0 {
            return f.pad(&whole.to_string());
        }
        let width = usize::try_from(digits).unwrap_or(0);
        f.pad(&format!("{whole}.{part:0width$}"))
    }
}
