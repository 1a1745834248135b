//! Thread: its length from its mass, its reels, the needles it is sewn with, and how much of it seams take.

mod counted;
mod density;
mod error;
mod formula;
mod hand;
mod needle;
mod plan;
mod ratio;
mod reel;
mod report;
mod sample;
mod seam;
mod stitch;

pub use counted::{Counted, Item};
pub use density::Density;
pub use error::SeamError;
pub use formula::Formula;
pub use hand::HandStitch;
pub use needle::{NEEDLES, NeedleSize};
pub use plan::{Allowance, RoleSum, Roles, SeamPlan};
pub use ratio::ThreadRatio;
pub use reel::{ReelError, far_apart, net_of, net_of_roll, on_all_reels, on_each_reel, over_reels};
pub use sample::Sample;
pub use seam::{Measures, Method, Seam, SeamThread, Split};
pub use stitch::{MachineStitch, Printed, Share, Stitch, machine_stitches};

use crate::quantity::{Micrometres, Milligrams, QuantityError, Tex, fraction::Fraction};

/// Length on a reel: net mass / tex, rounded down to a whole micrometre.
///
/// Source: the definition of tex (g/km); textilecalculation.blogspot.com 2014.
///
/// ```
/// use ellwand_domain::{quantity::Milligrams, thread::length_on_reel};
/// // 100 g of 30 tex: 3 333.3 m.
/// let length = length_on_reel("100g".parse::<Milligrams>().unwrap(), "30tex".parse().unwrap());
/// assert_eq!(length.unwrap().get(), 3_333_333_333);
/// ```
///
/// # Errors
/// [`QuantityError::TooLarge`] or [`QuantityError::Overflow`] above 10 000 km.
pub fn length_on_reel(net: Milligrams, fineness: Tex) -> Result<Micrometres, QuantityError> {
    let (grams, kilometres) = fineness.parts();
    let length = Fraction::new(net.get().into(), grams)
        .and_then(|f| f.times(kilometres, 1)?.times(1_000_000, 1));
    Micrometres::new(
        length
            .and_then(Fraction::floor)
            .ok_or(QuantityError::Overflow { limit: "10 000 km" })?,
    )
}

/// Mass of a length of thread, to the nearest milligram.
///
/// # Errors
/// [`QuantityError::TooLarge`] or [`QuantityError::Overflow`] above 100 t.
pub fn mass_of_thread(length: Micrometres, fineness: Tex) -> Result<Milligrams, QuantityError> {
    let (grams, kilometres) = fineness.parts();
    let mass =
        Fraction::new(length.get().into(), 1_000_000).and_then(|f| f.times(grams, kilometres));
    Milligrams::new(
        mass.and_then(Fraction::nearest)
            .ok_or(QuantityError::Overflow { limit: "100 t" })?,
    )
}
