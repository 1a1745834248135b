//! Washing by steps, and the length that a promise holds.

use super::fraction::{Fraction, ratio, up, whole};

/// A wash test in one direction: the marks before, and after each cycle that was read.
#[derive(Clone, Debug)]
pub struct WashTest {
    /// Distances between marks before.
    pub before: Vec<i128>,
    /// The same marks after the first, second … wash.
    pub after: Vec<Vec<i128>>,
}

impl WashTest {
    /// What is left of a length after `washes` (at most as many as were read).
    pub fn left(&self, washes: usize) -> Fraction {
        match washes.min(self.after.len()) {
            0 => whole(1),
            read => ratio(self.after[read - 1].iter().sum(), self.before.iter().sum()),
        }
    }
}

/// The test that speaks for so many washes: the latest with a reading there, else the one that reaches
/// furthest, the latest of equals.
pub fn test_for(tests: &[WashTest], washes: usize) -> Option<&WashTest> {
    let reaching = tests.iter().rev().find(|test| test.after.len() >= washes);
    reaching.or_else(|| tests.iter().max_by_key(|test| test.after.len()))
}

/// What is left of cloth that was washed `from` times when it has been washed `to` times.
pub fn left_between(tests: &[WashTest], from: usize, to: usize) -> Option<Fraction> {
    test_for(tests, to).map(|test| test.left(to) / test.left(from))
}

/// The length that a need takes: (need + allowance) / what is left, never short, and rounded up to the cutting
/// step where the cloth is there. Nothing if it does not fit.
pub fn held(need: i128, allowance: i128, left: &Fraction, step: i128, free: i128) -> Option<i128> {
    let exact = up(&(whole(need + allowance) / left));
    let stepped = up(&ratio(exact, step)) * step;
    [stepped, exact].into_iter().find(|length| *length <= free)
}
