//! Random numbers: the same from the same seed, on every machine and in every build.

/// A stream of random numbers.
///
/// - Source: SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014), from memory.
#[derive(Debug, Clone)]
pub(crate) struct Drawn(u64);

impl Drawn {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From 0 up to, but not, 1. All 24 bits of it fit an `f32`.
    pub(crate) fn share(&mut self) -> f32 {
        (self.next() >> 40) as f32 / (1_u32 << 24) as f32
    }

    /// Between two numbers.
    pub(crate) fn between(&mut self, from: f32, to: f32) -> f32 {
        from + (to - from) * self.share()
    }

    /// A whole number below `limit`; 0 where that is 0.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        let drawn = self.next() >> 32;
        ((drawn * limit as u64) >> 32) as usize
    }

    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}
