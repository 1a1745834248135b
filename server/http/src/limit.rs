//! How often something may happen for each key: requests of a token, failed sign-ins of an address.

use governor::{
    Quota, RateLimiter,
    clock::{Clock, MonotonicClock},
    middleware::NoOpMiddleware,
    state::keyed::HashMapStateStore,
};
use std::{
    hash::Hash,
    num::NonZeroU32,
    sync::atomic::{AtomicUsize, Ordering},
    time::Duration,
};

/// Keys that are kept before those that have recovered are forgotten.
const FIRST_SWEEP: usize = 1_024;

/// At most so many at once for each key, and as many again over each minute.
pub(crate) struct Limit<K: Hash + Eq + Clone, C: Clock + Clone = MonotonicClock> {
    limiter: RateLimiter<K, HashMapStateStore<K>, C, NoOpMiddleware<C::Instant>>,
    clock: C,
    /// Number of keys at which the next sweep is due: twice what the last one left, so that sweeping costs each count the
    /// same however many keys there are.
    sweep_at: AtomicUsize,
}

impl<K: Hash + Eq + Clone> Limit<K> {
    pub(crate) fn per_minute(most: usize) -> Self {
        Self::with_clock(most, MonotonicClock)
    }
}

impl<K: Hash + Eq + Clone, C: Clock + Clone> Limit<K, C> {
    fn with_clock(most: usize, clock: C) -> Self {
        let most = u32::try_from(most)
            .ok()
            .and_then(NonZeroU32::new)
            .unwrap_or(NonZeroU32::MAX);
        let limiter = RateLimiter::hashmap_with_clock(Quota::per_minute(most), clock.clone());
        Self {
            limiter,
            clock,
            sweep_at: AtomicUsize::new(FIRST_SWEEP),
        }
    }

    /// Counts one more.
    ///
    /// # Errors
    /// How long it is until the next is taken; nothing is counted then.
    pub(crate) fn count(&self, key: &K) -> Result<(), Duration> {
        if self.limiter.len() >= self.sweep_at.load(Ordering::Relaxed) {
            self.limiter.retain_recent();
            self.sweep_at
                .store((self.limiter.len() * 2).max(FIRST_SWEEP), Ordering::Relaxed);
        }
        self.limiter
            .check_key(key)
            .map_err(|refused| refused.wait_time_from(self.clock.now()))
    }
}

impl<K: Hash + Eq + Clone, C: Clock + Clone> std::fmt::Debug for Limit<K, C> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Limit").finish_non_exhaustive()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use governor::clock::FakeRelativeClock;

    #[test]
    fn a_key_takes_its_limit_and_recovers_over_a_minute() {
        let clock = FakeRelativeClock::default();
        let limit = Limit::with_clock(2, clock.clone());
        assert_eq!(limit.count(&"a"), Ok(()));
        assert_eq!(limit.count(&"a"), Ok(()));
        assert_eq!(
            limit.count(&"a"),
            Err(Duration::from_secs(30)),
            "one more each half minute"
        );
        assert_eq!(
            limit.count(&"b"),
            Ok(()),
            "another key has a limit of its own"
        );
        clock.advance(Duration::from_secs(29));
        assert_eq!(limit.count(&"a"), Err(Duration::from_secs(1)));
        clock.advance(Duration::from_secs(1));
        assert_eq!(limit.count(&"a"), Ok(()));
        assert!(limit.count(&"a").is_err());
    }

    #[test]
    fn keys_that_have_recovered_are_forgotten_and_sweeps_grow_rarer() {
        let clock = FakeRelativeClock::default();
        let limit = Limit::with_clock(1, clock.clone());
        for key in 0..FIRST_SWEEP {
            assert!(limit.count(&key).is_ok());
        }
        // All are recent: none goes, and the next sweep waits for twice as many.
        assert!(limit.count(&FIRST_SWEEP).is_ok());
        assert_eq!(
            (limit.limiter.len(), limit.sweep_at.load(Ordering::Relaxed)),
            (FIRST_SWEEP + 1, 2 * FIRST_SWEEP)
        );
        clock.advance(Duration::from_secs(120));
        for key in FIRST_SWEEP + 1..=2 * FIRST_SWEEP {
            assert!(limit.count(&key).is_ok());
        }
        assert!(
            limit.limiter.len() <= FIRST_SWEEP + 1,
            "{} keys",
            limit.limiter.len()
        );
    }
}
