//! `ellwand workshop price-rule`: how prices are made where nothing is said.

use crate::{Workshop, stories::planned};

#[test]
fn it_is_set_shown_and_forgotten() {
    let workshop = Workshop::new();
    let none = workshop.run("workshop price-rule").done();
    assert!(none.err.contains("There is no price rule"), "{}", none.err);
    let set = workshop
        .run("workshop price-rule --margin 35% --round-up 5 --stage 'deposit=40% of gross' --stage balance")
        .done();
    const WORDS: &str =
        "a margin of 35 %, rounded up to 5; paid in stages: deposit = 40% of gross, balance";
    assert!(
        set.err.contains(&format!("Prices are made by {WORDS}.")),
        "{}",
        set.err
    );
    let shown = workshop.run("workshop price-rule").done();
    assert_eq!(shown.out, format!("{WORDS}\n"));
    assert!(
        workshop
            .run("workshop")
            .done()
            .out
            .contains("prices made by")
    );
    let forgotten = workshop.run("workshop price-rule --forget").done();
    assert!(
        forgotten.err.contains("Forgot the price rule."),
        "{}",
        forgotten.err
    );
}

/// A price on the telephone: one command, a row, and what to do next.
#[test]
fn a_price_is_one_short_answer() {
    let workshop = planned();
    workshop
        .all(&["workshop price-rule --margin 35% --stage 'deposit=40% of gross' --stage balance"]);
    let made = workshop.run("quote make G1").done();
    let lines = made.out.lines().count() + made.err.lines().count();
    assert!(lines <= 8, "{lines} lines:\n{}{}", made.out, made.err);
    let long = made.out.lines().filter(|line| line.chars().count() > 80);
    assert_eq!(long.count(), 0, "{}", made.out);
    assert!(
        made.out.contains("L1.1 waxed cotton, L2.1 button") && made.out.contains("deposit"),
        "{}",
        made.out
    );
    let inside = workshop.run("quote make G1 --inside").done().out;
    assert!(inside.contains("where the price comes from"), "{inside}");
}
