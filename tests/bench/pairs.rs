//! Two things timed in turn, so that a drift of the machine hits both; medians and their ratio are printed.

use std::time::{Duration, Instant};

/// Times `ours` and `bare` in turn and prints the medians with their ratio.
pub fn compare(
    title: &str,
    runs: usize,
    aim: &str,
    beside: &str,
    mut ours: impl FnMut(usize),
    mut bare: impl FnMut(usize),
) {
    let (mut own, mut base) = (Vec::with_capacity(runs), Vec::with_capacity(runs));
    // The first runs warm caches and are not counted.
    for run in 0..runs + runs / 10 {
        let begun = Instant::now();
        ours(run);
        own.push(begun.elapsed());
        let begun = Instant::now();
        bare(run);
        base.push(begun.elapsed());
    }
    let (own, base) = (
        middle(own.split_off(runs / 10)),
        middle(base.split_off(runs / 10)),
    );
    let ratio = own.as_secs_f64() / base.as_secs_f64();
    println!(
        "{title}: {own:.1?} against {base:.1?} {beside} = {ratio:.2} (aim {aim}; medians of {runs} pairs)"
    );
}

fn middle(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}
