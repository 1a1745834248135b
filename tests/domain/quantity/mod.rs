//! Typed and printed quantities. Texts people type, limits on both sides, and random texts that must never panic.

mod money;
mod printed;
mod typed;

use ellwand_domain::quantity::Micrometres;

#[track_caller]
fn length(text: &str) -> i64 {
    text.parse::<Micrometres>()
        .unwrap_or_else(|e| panic!("{text}: {e}"))
        .get()
}
