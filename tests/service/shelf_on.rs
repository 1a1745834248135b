//! The shelf as it stood at the end of a day, by pencil and against the books.

use crate::{
    Workshop,
    book::TestBook,
    histories::{configuration, fine},
};
use ellwand_contract::{Amount, Micro};
use ellwand_contract::{
    bookings::Undo,
    cuts::Cut,
    garments::PlanGarment,
    goods::SellGoods,
    lots::MeasurePiece,
    month::{GetMonth, Month, NetAmount},
    purchases::{AddCharge, Buy},
    shelf::{GetShelf, Shelf},
    workshop::SetWorkshop,
};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Booked on 12 October: 10 m linen at 10.00, 4 m lining at 8.00, 10 buttons at 1.00 and, two weeks later, 10 at 2.00.
const SEPTEMBER: &[&str] = &[
    "workshop set --currency EUR --end-allowance 0cm --cutting-step 1cm",
    "buy --date 2026-09-05 --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100,fibres=linen 100%' \
         --line 'material=twill,kind=lining,full-width=140cm,paid=4m,price=32' --line 'material=button,kind=trim,paid=10,price=10'",
    "buy --date 2026-09-19 --line 'material=button,kind=trim,paid=10,price=20'",
    "garment plan shirt --need 'role=shell,kind=cloth,length=2m,width=140cm,preparation=none' \
         --need 'role=buttons,kind=trim,count=4'",
    "cut G1 shell 2m --from L1.1 --date 2026-09-10",
    "cut G1 buttons 4 --from L3.1 --date 2026-09-25",
    "wash done L2.1 --preparation washed --length 3.80m --width 138cm --date 2026-10-01",
    "garment plan apron --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
    "reserve G2 shell --from L1.1",
];

/// Piece, quantity and value of each row.
fn stood(workshop: &Workshop, day: &str) -> Vec<(String, String, String)> {
    let on = if day.is_empty() {
        String::new()
    } else {
        format!("--on {day}")
    };
    let shelf = workshop.json(&format!("shelf {on}"));
    let text = |value: &Value| {
        value
            .as_str()
            .map_or_else(|| value.to_string(), str::to_owned)
    };
    let rows = shelf["pieces"].as_array().unwrap().iter().map(|row| {
        let on_hand = row["on_hand"].as_object().unwrap().values().next().unwrap();
        (text(&row["piece"]), text(on_hand), text(&row["value"]))
    });
    rows.collect()
}

fn rows(rows: &[(&str, &str, &str)]) -> Vec<(String, String, String)> {
    let owned = |(piece, on_hand, value): &(&str, &str, &str)| {
        (
            (*piece).to_owned(),
            (*on_hand).to_owned(),
            (*value).to_owned(),
        )
    };
    rows.iter().map(owned).collect()
}

#[test]
fn lengths_and_values_are_those_of_the_day() {
    let workshop = Workshop::new();
    workshop.all(SEPTEMBER);
    assert_eq!(stood(&workshop, "2026-09-04"), vec![]);
    let bought = [
        ("L1.1", "10", "100"),
        ("L2.1", "4", "32"),
        ("L3.1", "10", "10"),
    ];
    assert_eq!(stood(&workshop, "2026-09-05"), rows(&bought));
    // 2 of 10 m are cut: 8 m, 80.00.
    assert_eq!(
        stood(&workshop, "2026-09-10")[0],
        rows(&[("L1.1", "8", "80")])[0]
    );
    // Each card of buttons is worth what it cost; 4 of the first are used on the 25th.
    assert_eq!(
        stood(&workshop, "2026-09-24")[2..],
        rows(&[("L3.1", "10", "10"), ("L4.1", "10", "20")])
    );
    assert_eq!(
        stood(&workshop, "2026-09-30"),
        rows(&[
            ("L1.1", "8", "80"),
            ("L2.1", "4", "32"),
            ("L3.1", "6", "6"),
            ("L4.1", "10", "20")
        ])
    );
    // The wash takes 20 cm and nothing of the value.
    assert_eq!(
        stood(&workshop, "2026-10-01")[1],
        rows(&[("L2.1", "3.8", "32")])[0]
    );
    // What is promised is there; what it was like then is not kept.
    let day = workshop.json("shelf --on 2026-10-01");
    let lining = &day["pieces"][1];
    assert_eq!(
        (&day["on"], &day["pieces"][0]["fibres"]),
        (&json!("2026-10-01"), &json!(["linen"]))
    );
    for field in [
        "reserved",
        "free",
        "longest_free",
        "usable_width_m",
        "preparation",
    ] {
        assert!(lining[field].is_null(), "{field}: {lining}");
    }
    assert_eq!(workshop.json("shelf")["pieces"][0]["free"]["length_m"], "7");
    workshop.audit();
}

/// A backdated cut counts from its day, and its undo from the day that it names, as in the months. Without one what is taken back
/// was never there.
#[test]
fn a_backdated_act_counts_from_its_day_and_an_undo_from_its_own() {
    let workshop = Workshop::new();
    workshop.all(SEPTEMBER);
    workshop.all(&["cut G2 shell 1m --from L1.1 --date 2026-09-20"]);
    let linen = |day: &str| stood(&workshop, day)[0].clone();
    let stands = |length: &str, value: &str| rows(&[("L1.1", length, value)])[0].clone();
    assert_eq!(linen("2026-09-19"), stands("8", "80"));
    assert_eq!(linen("2026-09-20"), stands("7", "70"));
    workshop.all(&["undo --date 2026-10-12"]);
    assert_eq!(linen("2026-09-20"), stands("7", "70"));
    assert_eq!(linen("2026-10-11"), stands("7", "70"));
    assert_eq!(linen("2026-10-12"), stands("8", "80"));
    assert_eq!(linen(""), stands("8", "80"));
    let buy = "buy --date 2026-09-06 --line 'material=canvas,kind=interlining,full-width=90cm,paid=3m,price=9'";
    let stood_on = |piece: &str| {
        ["2026-09-05", "2026-09-06", "2026-10-11", "2026-10-12", ""]
            .map(|day| stood(&workshop, day).iter().any(|(row, ..)| row == piece))
    };
    workshop.all(&[buy, "undo --date 2026-10-12"]);
    assert_eq!(stood_on("L5.1"), [false, true, true, false, false]);
    workshop.all(&[buy, "undo"]);
    assert_eq!(stood_on("L6.1"), [false; 5]);
    // In closed books it was there, and comes off today.
    let bought = workshop.json(buy)["booking"].as_str().unwrap().to_owned();
    workshop.all(&["workshop close 2026-09-30", &format!("undo {bought}")]);
    assert_eq!(stood_on("L7.1"), [false, true, true, false, false]);
    workshop.audit();
}

#[test]
fn a_day_is_past_and_asks_for_nothing_of_now() {
    let workshop = Workshop::new();
    workshop.all(SEPTEMBER);
    workshop
        .run("shelf --on 2026-10-13")
        .refused(1, &["2026-10-13 is in the future", "--on"]);
    for filter in ["place", "mass_min", "mass_max", "width_min", "free_min"] {
        let refused = TestBook::new()
            .ask::<GetShelf>(json!({"on": "2026-10-01", filter: "1m"}))
            .unwrap_err();
        assert_eq!(refused.field.as_deref(), Some(filter));
    }
}

/// An act with the numbers it is made of.
type Draw = (u8, u16, u16, u8);

fn act(book: &TestBook, (kind, a, b, day): Draw) {
    let date = format!("2026-{:02}-{:02}", 9 + day % 2, day % 12 + 1);
    let kinds = [
        json!({"kind": "cloth", "name": "linen", "full_width": "150cm"}),
        json!({"kind": "thread", "name": "silk"}),
        json!({"kind": "trim", "name": "button", "unit": "count"}),
    ];
    let of = usize::from(a % 3);
    let lot = format!("L{}", b % 6 + 1);
    let (role, amount) = [
        ("shell", format!("{}mm", b % 1_900 + 1)),
        ("thread", format!("{}cm", b % 900 + 1)),
        ("buttons", format!("{}", b % 6 + 1)),
    ][of]
        .clone();
    match kind % 8 {
        0..=2 => {
            let paid = ["4.13m", "300m", "7"][of];
            let line = json!([{"material": kinds[of], "paid": paid, "price": format!("{}.{:02}", b % 50, b % 100)}]);
            fine(book.ask::<Buy>(json!({"date": date, "line": line})));
        }
        3 | 4 => {
            fine(book.ask::<Cut>(
                json!({"garment": "G1", "need": role, "piece": format!("{lot}.1"), "amount": amount, "date": date, "really": true}),
            ));
        }
        5 => {
            let charge = json!({"kind": "freight", "amount": format!("{}.{:02}", a % 9, b % 100)});
            fine(book.ask::<AddCharge>(
                json!({"purchase": format!("P{}", b % 4 + 1), "charge": charge, "date": date}),
            ));
        }
        6 if a % 2 == 0 => {
            fine(book.ask::<MeasurePiece>(
                json!({"piece": format!("{lot}.1"), "found": amount, "date": date, "really": true}),
            ));
        }
        6 => {
            fine(book.ask::<SellGoods>(
                json!({"goods": {"piece": format!("{lot}.1"), "amount": amount, "date": date}, "price": "5.00"}),
            ));
        }
        _ => {
            fine(book.ask::<Undo>(json!({"booking": format!("B{}", b % 20 + 1)})));
        }
    }
}

/// Quantity and value by kind.
type Sums = BTreeMap<String, (i64, i64)>;

fn quantity(amount: NetAmount) -> i64 {
    match amount {
        NetAmount::LengthM(length) => length.0,
        NetAmount::Count(count) => count,
    }
}

fn of_pieces(shelf: &Shelf) -> Sums {
    let mut sums = Sums::new();
    for piece in &shelf.pieces {
        let sum = sums.entry(piece.kind.to_string()).or_default();
        sum.0 += piece.on_hand.get();
        sum.1 += piece.value.map_or(0, Micro::get);
    }
    sums
}

fn of_totals(shelf: &Shelf) -> Sums {
    let totals = shelf.totals.iter();
    let sum = |of: &ellwand_contract::shelf::KindTotal| {
        let value = of.value.map_or(0, Micro::get);
        (of.kind.to_string(), (quantity(of.on_hand), value))
    };
    totals.map(sum).collect()
}

fn of_month(month: &Month) -> Sums {
    let goods = month.goods.iter();
    let sum = |of: &ellwand_contract::month::MonthGoods| {
        let value = of.at_end.value.map_or(0, Micro::get);
        (of.kind.to_string(), (quantity(of.at_end.amount), value))
    };
    let left = goods.map(sum).filter(|(_, sum)| *sum != (0, 0));
    left.collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..configuration() })]

    /// Whatever is booked, on whatever day and taken back: the pieces of a day add up to what the months say, and today's shelf is
    /// the one that lies there.
    #[test]
    fn the_pieces_of_a_day_add_up_to_the_books(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 10..30)) {
        let book = TestBook::new();
        let method = if average { "average" } else { "fifo" };
        book.ask::<SetWorkshop>(json!({"pooled_method": method})).unwrap();
        book.ask::<PlanGarment>(json!({"name": "dress", "need": [
            {"role": "shell", "kind": "cloth", "length": "2m", "width": "100cm", "preparation": "none"},
            {"role": "thread", "kind": "thread", "length": "200m"},
            {"role": "buttons", "kind": "trim", "count": 6},
        ]})).unwrap();
        for draw in draws {
            act(&book, draw);
        }
        for day in ["2026-08-31", "2026-09-03", "2026-09-12", "2026-09-30", "2026-10-04", "2026-10-11", "2026-10-12"] {
            let shelf = book.ask::<GetShelf>(json!({"on": day, "totals": true, "limit": 500})).unwrap();
            let month = book.ask::<GetMonth>(json!({"from": day, "to": day})).unwrap();
            prop_assert_eq!(of_pieces(&shelf), of_month(&month), "{}", day);
            prop_assert_eq!(of_totals(&shelf), of_month(&month), "{}", day);
        }
        let today = book.ask::<GetShelf>(json!({"on": "2026-10-12", "totals": true, "limit": 500})).unwrap();
        let now = book.ask::<GetShelf>(json!({"totals": true, "limit": 500})).unwrap();
        prop_assert_eq!(of_totals(&today), of_totals(&now));
        let bare = |shelf: &Shelf| -> Vec<(String, Amount, Option<Micro>)> {
            let rows = shelf.pieces.iter();
            rows.map(|row| (row.piece.to_string(), row.on_hand, row.value)).collect()
        };
        prop_assert_eq!(bare(&today), bare(&now));
    }
}
