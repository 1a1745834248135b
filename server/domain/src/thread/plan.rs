//! The seams of a garment together: what each thread of it comes to, with ends and waste.

use super::{error::SeamError, seam::SeamThread, seam::Split};
use crate::quantity::{Micrometres, PARTS_PER_MILLION, PartsPerMillion};

/// What is added to the thread in the seams.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allowance {
    /// Tail of each thread at each start and finish.
    pub ends: Micrometres,
    /// Share of seams and ends together that is wasted.
    pub waste: PartsPerMillion,
}

impl Allowance {
    /// The longest tail.
    pub const ENDS_MAX: Micrometres = Micrometres::METRE;

    /// 25 mm where threads are cut by hand (20 to 30 mm: scribd doc 194966618) and 15 % (10–15 %: apparelscience.com;
    /// 15–20 %: a thread maker's bulletin "Estimating Thread Consumption").
    pub const USUAL: Self = Self {
        ends: Micrometres::from_mm(25),
        waste: PartsPerMillion::FIFTEEN_PERCENT,
    };

    /// `length` with the share for waste, rounded up to a whole micrometre.
    ///
    /// # Errors
    /// [`SeamError::Overflow`].
    pub fn with_waste(self, length: Micrometres) -> Result<Micrometres, SeamError> {
        let all = PARTS_PER_MILLION.saturating_add(self.waste.get().max(0));
        Ok(length.scale_up(all, PARTS_PER_MILLION)?)
    }
}

/// A seam's thread and the roles that it is taken from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Roles {
    /// Role of the needle thread.
    pub needle: String,
    /// Role of the under thread; often the same.
    pub under: String,
    /// The thread.
    pub thread: SeamThread,
}

/// Seams of a garment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SeamPlan {
    /// In the order of the plan.
    pub seams: Vec<Roles>,
    /// Ends and waste.
    pub allowance: Allowance,
}

/// What one role comes to for one garment; every length rounds up to a whole micrometre.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoleSum {
    /// Role, as the first seam that names it does.
    pub role: String,
    /// Thread in the seams.
    pub sum: Micrometres,
    /// Tails at starts and finishes.
    pub tails: i64,
    /// Their length together.
    pub ends: Micrometres,
    /// Waste on both.
    pub waste: Micrometres,
    /// All of it.
    pub total: Micrometres,
}

fn same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

impl Roles {
    /// Refuses two roles where only the whole is known.
    ///
    /// # Errors
    /// [`SeamError::ShareUnknown`].
    pub fn check(&self) -> Result<(), SeamError> {
        if self.thread.split == Split::Unknown && !same(&self.needle, &self.under) {
            return Err(SeamError::ShareUnknown {
                stitch: self.thread.seam.stitch.to_string(),
            });
        }
        Ok(())
    }

    /// Thread and tails that it takes from a role.
    fn of(&self, role: &str) -> Result<(Micrometres, i64), SeamError> {
        let (mut length, mut tails) = (Micrometres::ZERO, 0_i64);
        if same(&self.needle, role) {
            length = length.plus(self.thread.needle)?;
            tails = tails.saturating_add(self.thread.needle_tails);
        }
        if same(&self.under, role) {
            length = length.plus(self.thread.under)?;
            tails = tails.saturating_add(self.thread.under_tails);
        }
        Ok((length, tails))
    }
}

impl SeamPlan {
    /// Roles that seams name, in the order of the plan; one without under thread names none for it.
    #[must_use]
    pub fn roles(&self) -> Vec<String> {
        let mut roles: Vec<String> = Vec::new();
        for seam in &self.seams {
            let under = (seam.thread.split != Split::OneThread).then_some(&seam.under);
            for role in [Some(&seam.needle), under].into_iter().flatten() {
                if !roles.iter().any(|known| same(known, role)) {
                    roles.push(role.clone());
                }
            }
        }
        roles
    }

    /// What a role comes to; nothing when no seam names it.
    ///
    /// # Errors
    /// [`SeamError::Overflow`].
    pub fn sum(&self, role: &str) -> Result<Option<RoleSum>, SeamError> {
        let Some(role) = self.roles().into_iter().find(|known| same(known, role)) else {
            return Ok(None);
        };
        let (mut sum, mut tails) = (Micrometres::ZERO, 0_i64);
        for seam in &self.seams {
            let (length, more) = seam.of(&role)?;
            sum = sum.plus(length)?;
            tails = tails.saturating_add(more);
        }
        let ends = self.allowance.ends.times(tails)?;
        let sewn = sum.plus(ends)?;
        let total = self.allowance.with_waste(sewn)?;
        Ok(Some(RoleSum {
            role,
            sum,
            tails,
            ends,
            waste: total.less(sewn),
            total,
        }))
    }
}
