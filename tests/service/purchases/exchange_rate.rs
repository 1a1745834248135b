//! Rates of exchange that are typed with a purchase.

use crate::Workshop;

/// By hand: 18 000 yen at 0.00525 are 94.50 pounds; at 190.50, yen for a pound, they would be 3 429 000.
#[test]
fn a_rate_the_wrong_way_round_is_asked_about() {
    let workshop = Workshop::new();
    workshop.all(&["workshop set --currency GBP"]);
    let buy = |more: &str| {
        format!(
            "buy --currency JPY {more} --line 'material=chirimen,kind=cloth,paid=3m,price=18000,full-width=38cm'"
        )
    };
    let before = workshop.dump();
    workshop.run(&buy("--rate 190.50")).refused(
        1,
        &[
            "the first rate of JPY: 1 JPY is 190.50 GBP, and 1 GBP is 0.00524934 JPY",
            "18000 JPY comes to 3429000.00 GBP",
            "confirm with --really; else give how many GBP one JPY is",
        ],
    );
    assert_eq!(before, workshop.dump());
    assert_eq!(
        workshop.json(&buy("--rate 0.00525 --really"))["home_total"],
        "94.5"
    );
    // A rate near the last one needs no word, and what the card statement says is measured by it, too.
    workshop.all(&[&buy("--rate 0.0011"), &buy("--rate 0.0055")]);
    workshop.run(&buy("--rate 0.00109")).refused(
        1,
        &[
            "1 JPY is 0.00109 GBP",
            "more than 5 times off the last rate, 0.0055",
            "--really",
        ],
    );
    workshop
        .run(&buy("--home-amount 900"))
        .refused(1, &["1 JPY is 0.05 GBP", "more than 5 times off"]);
    workshop.all(&[&buy("--home-amount 94.50")]);
    // A purchase that was taken back tells nothing.
    workshop.all(&[
        &buy("--rate 190.50 --really"),
        "undo --yes",
        &buy("--rate 0.005"),
    ]);
    workshop
        .run("buy charge P1 freight=9 --currency EUR --rate 0.85")
        .refused(
            1,
            &["the first rate of EUR: 1 EUR is 0.85 GBP, and 1 GBP is 1.17647 EUR"],
        );
    workshop.all(&["buy charge P1 freight=9 --currency EUR --rate 0.85 --really"]);
    workshop.audit();
}
