//! Lays of research instances: the first answer, and searches of some seconds of processor time, beside published figures.
//!
//! `cargo bench -p ellwand-lay -- SECONDS SEEDS [INSTANCE]`; utilisation is the area of the parts × 100 / (width × length).
//! Published: mean of 100 runs of 20 minutes on 3 threads (arXiv:2509.13329, tables 1–3).
#![expect(
    clippy::unwrap_used,
    reason = "a bench that unwraps nothing has failed"
)]

#[path = "../support/esicup.rs"]
mod esicup;

use ellwand_domain::lay::{Lay, LayCloth};
use ellwand_lay::{Budget, first, search};
use std::{
    sync::atomic::{AtomicBool, Ordering},
    time::Duration,
};

fn main() {
    let mut given = std::env::args().skip(1).filter(|arg| arg != "--bench");
    let seconds: f64 = given.next().map_or(5.0, |text| text.parse().unwrap());
    let seeds: u64 = given.next().map_or(3, |text| text.parse().unwrap());
    let wanted = given.next();
    println!(
        "instance  first     ms  | {seconds} s of processor time, {seeds} seeds | published, 20 min × 3"
    );
    for (instance, published) in [
        (esicup::SHIRTS, 89.66),
        (esicup::SWIM, 78.26),
        (esicup::ALBANO, 89.47),
    ] {
        if wanted.as_deref().is_some_and(|name| name != instance.name) {
            continue;
        }
        let (parts, cloth) = instance.parts();
        let begun = processor_time("self");
        let start = first(&parts, cloth).unwrap();
        let ms = (processor_time("self") - begun) * 1000.0;
        let mut shares = Vec::new();
        let mut positions = 0;
        for seed in 1..=seeds {
            let cancel = AtomicBool::new(false);
            let found = std::thread::scope(|scope| {
                let (tell, told) = std::sync::mpsc::channel();
                let (parts, cancel) = (&parts, &cancel);
                let searching = scope.spawn(move || {
                    let thread = std::fs::read_link("/proc/thread-self").unwrap();
                    tell.send(thread.to_string_lossy().into_owned()).unwrap();
                    let budget = Budget {
                        positions: u64::MAX,
                        time: None,
                        seed,
                    };
                    search(parts, cloth, budget, None, &mut |_| {}, cancel).unwrap()
                });
                let thread = told.recv().unwrap();
                while processor_time(&thread) < seconds {
                    std::thread::sleep(Duration::from_millis(5));
                }
                cancel.store(true, Ordering::Relaxed);
                searching.join().unwrap()
            });
            positions += found.positions;
            shares.push(utilisation(&found.lay, cloth));
        }
        let mean = shares.iter().sum::<f64>() / shares.len() as f64;
        let each: Vec<String> = shares.iter().map(|share| format!("{share:.2}")).collect();
        println!(
            "{:<9} {:>5.2} {ms:>6.0}  | {mean:.2} ({}) {:.0} positions/s | {published}",
            instance.name,
            utilisation(&start, cloth),
            each.join(" "),
            positions as f64 / seconds / seeds as f64,
        );
    }
}

/// Seconds of processor time that a task used (Linux).
fn processor_time(task: &str) -> f64 {
    let text = std::fs::read_to_string(format!("/proc/{task}/schedstat")).unwrap_or_default();
    let ns = text
        .split(' ')
        .next()
        .and_then(|text| text.parse::<f64>().ok());
    ns.unwrap_or(f64::MAX) / 1e9
}

fn utilisation(lay: &Lay, cloth: LayCloth) -> f64 {
    let square = cloth.usable.get() as f64 * lay.length().get() as f64;
    lay.area_um2() as f64 * 100.0 / square
}
