//! Units that are promised and cut in part: what is left is the units less what was really filled.

use crate::Workshop;
use serde_json::{Value, json};

/// Made up for this: step 5 cm, end allowance 4 cm, linen 150 cm wide, 10 m.
fn linen() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&["buy --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100'"]);
    workshop
}

/// A batch of separate lengths of 1 m, without a preparation.
fn batch(count: u8) -> String {
    format!(
        "garment plan apron --count {count} --need 'role=shell,kind=cloth,length=1m,width=70cm,preparation=none'"
    )
}

/// Of the first need: units promised, cut and in all.
fn units(workshop: &Workshop) -> [Value; 3] {
    let need = workshop.json("garment show G1")["needs"][0].clone();
    ["units_reserved", "units_cut", "units"].map(|name| need[name].clone())
}

/// What the first need's active promises hold.
fn held(workshop: &Workshop, unit: &str) -> Vec<Value> {
    let need = workshop.json("garment show G1")["needs"][0].clone();
    let rows = need["reservations"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|row| row["state"] == "active");
    rows.map(|row| row["held"][unit].clone()).collect()
}

/// Units of all active promises of a need.
fn standing(workshop: &Workshop) -> Value {
    units(workshop)[0].clone()
}

/// Two pieces of 2.0 and 1.9 m and a need of 3.5 m whose longest part has 1.8 m; without an end allowance.
fn two_pieces() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=2m,price=20' \
             --line 'material=linen,kind=cloth,full-width=150cm,paid=1.9m,price=19'",
        "garment plan coat --need \
             'role=shell,kind=cloth,length=3.5m,width=70cm,preparation=none,longest-part=1.8m,mixing=yes'",
    ]);
    workshop
}

/// By hand: six of 1 m are promised, five cuts of 2 + 1 + 1 + 1 + 1 m fill six.
#[test]
fn cuts_fill_as_many_units_as_they_cover() {
    let workshop = linen();
    workshop.all(&[&batch(6), "reserve G1 --all --yes", "cut G1 shell 2m"]);
    for _ in 0..4 {
        workshop.all(&["cut G1 shell 1m"]);
    }
    assert_eq!(units(&workshop), [json!(0), json!(6), json!(6)]);
    assert_eq!(
        held(&workshop, "length_m"),
        Vec::<Value>::new(),
        "nothing is held for what was filled"
    );
    workshop.audit();
}

/// By hand: of 3 × 7 buttons ten are taken: one set of seven is cut, and the three that are over make another with four of the
/// eleven that are promised still. Nothing is open, and the eleven finish all three.
#[test]
fn ten_of_three_sets_of_seven_leave_two_in_eleven() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=button,kind=trim,paid=30,price=30'",
        "garment plan shirt --count 3 --need 'role=buttons,kind=trim,count=7'",
        "reserve G1 --all --yes",
        "cut G1 buttons '10 pcs'",
    ]);
    assert_eq!(units(&workshop), [json!(2), json!(1), json!(3)]);
    assert_eq!(held(&workshop, "count"), [json!(11)]);
    assert_eq!(workshop.json("candidates G1")["needs"][0]["units_open"], 0);
    workshop.all(&["cut G1 buttons '11 pcs'"]);
    assert_eq!(units(&workshop), [json!(0), json!(3), json!(3)]);
    workshop.audit();
}

/// By hand: 10 cm of 1 m fill nothing, three times over.
#[test]
fn three_snips_are_no_three_lengths() {
    let workshop = linen();
    workshop.all(&[&batch(3)]);
    for _ in 0..3 {
        workshop.all(&["cut G1 shell 10cm --from L1.1"]);
    }
    assert_eq!(units(&workshop), [json!(0), json!(0), json!(3)]);
    workshop.audit();
}

/// By hand: of four that are promised `--count 3` in 1 m fills one at the most; promised and cut are four together.
#[test]
fn three_of_four_do_not_come_out_of_one_metre() {
    let workshop = linen();
    workshop.all(&[
        &batch(4),
        "reserve G1 --all --yes",
        "cut G1 shell 1m --count 3",
    ]);
    let [reserved, cut, all] = units(&workshop);
    let both = reserved.as_i64().unwrap() + cut.as_i64().unwrap();
    assert!(
        both <= all.as_i64().unwrap(),
        "promised {reserved} and cut {cut} of {all}"
    );
    workshop.audit();
}

/// By hand: taken back, the four units of 4.20 m are promised again, and nothing more is offered.
#[test]
fn an_undo_restores_the_units_of_a_promise() {
    let workshop = linen();
    workshop.all(&[&batch(4), "reserve G1 --all --yes"]);
    let before = (units(&workshop), held(&workshop, "length_m"));
    assert_eq!(before, ([json!(4), json!(0), json!(4)], vec![json!("4.2")]));
    workshop.all(&["cut G1 shell 1m --count 3", "undo --yes"]);
    assert_eq!((units(&workshop), held(&workshop, "length_m")), before);
    assert_eq!(workshop.json("candidates G1")["needs"][0]["units_open"], 0);
    workshop.audit();
}

/// By hand: 6 × 1 m on 10 m with a flaw at 5 m: four lie before it (4 × 1.05 m = 4.20 m) and two behind it.
#[test]
fn a_flaw_between_separate_lengths_breaks_none() {
    let workshop = linen();
    workshop.all(&[&batch(6), "reserve G1 --all --yes", "lot flaw L1.1 --at 5m"]);
    assert_eq!(standing(&workshop), 6);
    workshop.audit();
}

/// By hand: the flaw is there before the promise; four and two fit.
#[test]
fn separate_lengths_are_promised_on_both_sides_of_a_flaw() {
    let workshop = linen();
    workshop.all(&[&batch(6), "lot flaw L1.1 --at 5m", "reserve G1 --all --yes"]);
    assert_eq!(standing(&workshop), 6);
    workshop.audit();
}

/// By hand: of 6.20 m five lengths of 1.05 m (5.25 m) stay, and one is lost; each takes 1.04 m at the least, 6.24 m in all.
#[test]
fn a_shorter_piece_keeps_the_lengths_that_fit() {
    let workshop = linen();
    workshop.all(&[
        &batch(6),
        "reserve G1 --all --yes",
        "lot measure L1.1 6.2m --really",
    ]);
    assert_eq!(standing(&workshop), 5);
    workshop.audit();
}

/// By hand: 250 m of four reels of 100 m.
#[test]
fn thread_goes_on_with_the_next_reel() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=thread,kind=thread,paid=4 reels,reel-length=100m,price=12'",
        "garment plan coat --need 'role=thread,kind=thread,length=250m'",
        "reserve G1 --all --yes",
    ]);
    let metres = |held: &Value| held.as_str().unwrap().parse::<i64>().unwrap();
    assert_eq!(
        held(&workshop, "length_m").iter().map(metres).sum::<i64>(),
        250
    );
    workshop.audit();
}

/// By hand: 2.0 and 1.9 m are enough for 3.5 m, 1.8 m of it in one.
#[test]
fn a_need_with_a_longest_part_splits_by_itself() {
    let workshop = two_pieces();
    workshop.all(&["reserve G1 --all --yes"]);
    assert_eq!(held(&workshop, "length_m").len(), 2);
    assert_eq!(units(&workshop)[0], 1);
    workshop.audit();
}

/// By hand: after 1.9 m by hand 1.60 m are open, since the longest part lies in what was promised.
#[test]
fn the_rest_takes_what_is_open() {
    let workshop = two_pieces();
    workshop.all(&[
        "reserve G1 shell --from L2.1 --washed-length 1.9m",
        "reserve G1 --all --yes",
    ]);
    assert_eq!(held(&workshop, "length_m"), ["1.9", "1.6"]);
    workshop.audit();
}
