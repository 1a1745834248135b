//! Cash that comes in steps: what a customer pays, and what it settles.

use crate::stories::cash::{coat, standing};
use serde_json::{Value, json};

/// 801.71 is 801.70 in cash at once; the difference is neither left nor over (derived).
#[test]
fn all_of_it_at_once_a_part_of_it_and_a_payment_by_bank() {
    let workshop = coat("801.71", "--stage 'deposit=40% of gross' --stage balance");
    let answer = workshop.json("quote pay Q1 801.70 --cash");
    assert_eq!(
        standing(&answer)[..4],
        [
            &json!("801.70"),
            &json!("0.01"),
            &json!("0.00"),
            &json!("0.00")
        ]
    );
    assert_eq!(answer["standing"]["owed"], "801.70", "what came in");
    // All of it goes back the same way.
    let back = workshop.json("quote pay Q1 -801.70 --cash");
    assert_eq!(
        standing(&back)[..3],
        [&json!("0.00"), &Value::Null, &json!("801.71")]
    );
    // By bank it is paid to the cent; a part in cash is what it is, and what is left is rounded.
    let bank = workshop.json("quote pay Q1 320.68");
    assert_eq!(
        (&bank["standing"]["left"], &bank["standing"]["left_cash"]),
        (&json!("481.03"), &json!("481.05"))
    );
    let part = workshop.json("quote pay Q1 81 --cash");
    assert_eq!(
        standing(&part)[..3],
        [&json!("401.68"), &Value::Null, &json!("400.03")]
    );
    let rest = workshop.json("quote pay Q1 400.05 --cash");
    assert_eq!(
        standing(&rest)[..4],
        [
            &json!("801.73"),
            &json!("-0.02"),
            &json!("0.00"),
            &json!("0.00")
        ]
    );
    workshop.audit();
}

#[test]
fn a_cancelled_order_gives_back_what_came_in() {
    let workshop = coat("24.65", "--stage deposit=12.32 --stage balance");
    workshop.all(&["quote pay Q1 12.30 --cash", "quote close Q1 --keep 5.02"]);
    let cancelled = &workshop.json("quote show Q1")["standing"];
    assert_eq!(
        (&cancelled["kept"], &cancelled["returned"]),
        (&json!("5.02"), &json!("7.28"))
    );
    let back = &workshop.json("quote pay Q1 -7.30 --cash")["standing"];
    assert_eq!(
        (&back["kept"], &back["returned"]),
        (&json!("5.02"), &json!("0.00"))
    );
    workshop.audit();
}
