//! Counting in windows of a minute, by key: requests of a token, failed sign-ins of an address.

use std::{
    collections::HashMap,
    hash::Hash,
    sync::{Mutex, MutexGuard, PoisonError},
    time::{Duration, Instant},
};

/// Length of a window.
const WINDOW: Duration = Duration::from_secs(60);
/// Keys that are kept before the windows that have passed are swept.
const SWEEP: usize = 10_000;

/// How often something happened for each key in its window. A window begins with the first count and is a minute long, so
/// that two of them side by side can hold twice the limit, and no more.
#[derive(Debug)]
pub(crate) struct Windows<K> {
    limit: usize,
    counts: Mutex<HashMap<K, (Instant, usize)>>,
}

impl<K: Hash + Eq> Windows<K> {
    pub(crate) fn new(limit: usize) -> Self {
        Self { limit, counts: Mutex::new(HashMap::new()) }
    }

    /// Counts one more.
    ///
    /// # Errors
    /// How long it is to the next window, when this one is full; nothing is counted then.
    pub(crate) fn count(&self, key: K, now: Instant) -> Result<(), Duration> {
        let mut counts = self.lock();
        if counts.len() >= SWEEP {
            counts.retain(|_, (begun, _)| rest(*begun, now).is_some());
        }
        let entry = counts.entry(key).or_insert((now, 0));
        if rest(entry.0, now).is_none() {
            *entry = (now, 0);
        }
        match rest(entry.0, now) {
            Some(wait) if entry.1 >= self.limit => Err(wait),
            _ => {
                entry.1 += 1;
                Ok(())
            }
        }
    }

    /// How long it is to the next window when this one is full.
    pub(crate) fn full(&self, key: &K, now: Instant) -> Option<Duration> {
        let counts = self.lock();
        let (begun, count) = counts.get(key)?;
        rest(*begun, now).filter(|_| *count >= self.limit)
    }

    fn lock(&self) -> MutexGuard<'_, HashMap<K, (Instant, usize)>> {
        self.counts.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// What is left of a window.
fn rest(begun: Instant, now: Instant) -> Option<Duration> {
    WINDOW.checked_sub(now.saturating_duration_since(begun)).filter(|rest| !rest.is_zero())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_window_takes_its_limit_and_the_next_one_begins_anew() {
        let (windows, begun) = (Windows::new(2), Instant::now());
        let at = |seconds| begun + Duration::from_secs(seconds);
        assert_eq!(windows.count("a", at(0)), Ok(()));
        assert_eq!(windows.full(&"a", at(1)), None);
        assert_eq!(windows.count("a", at(10)), Ok(()));
        assert_eq!(windows.full(&"a", at(10)), Some(Duration::from_secs(50)));
        assert_eq!(windows.count("a", at(20)), Err(Duration::from_secs(40)));
        assert_eq!(windows.count("b", at(20)), Ok(()), "another key has a window of its own");
        assert_eq!(windows.full(&"a", at(60)), None);
        assert_eq!(windows.count("a", at(60)), Ok(()));
        assert_eq!(windows.full(&"a", at(61)), None);
    }

    #[test]
    fn windows_that_have_passed_are_swept() {
        let (windows, begun) = (Windows::new(1), Instant::now());
        for key in 0..SWEEP {
            assert!(windows.count(key, begun).is_ok());
        }
        assert!(windows.count(SWEEP, begun + WINDOW).is_ok());
        assert_eq!(windows.lock().len(), 1);
    }
}
