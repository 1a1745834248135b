//! What is promised costs what cutting it would cost as the book stands, and never what it did on the day of the promise.

use crate::Workshop;
use serde_json::Value;

/// Planned and actual cost of a garment.
fn cost(workshop: &Workshop, garment: &str) -> (Value, Value) {
    let job = workshop.json(&format!("cost {garment}"))["job"].clone();
    (
        job["planned_printed"].clone(),
        job["actual_printed"].clone(),
    )
}

fn quoted(workshop: &Workshop, quotation: &str) -> Value {
    workshop.json(&format!("quote show {quotation}"))["inside"]["costs"][0]["printed"].clone()
}

fn with_buttons(method: &str) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("workshop set --pooled-method {method}"),
        "buy --line 'material=horn button,kind=trim,paid=10,price=10'",
        "garment plan one --need 'role=buttons,kind=trim,count=10'",
        "garment plan other --need 'role=buttons,kind=trim,count=10,mixing=yes'",
        "reserve G1 --all --yes",
    ]);
    workshop
}

/// Derived: 10 m for 100.00 and 50.00 of freight are 150.00, so that 2 m of them are 30.00, promised before it or not.
#[test]
fn freight_that_comes_after_the_promise_is_in_its_cost() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "garment plan one --need 'role=shell,kind=cloth,length=2m,width=1.40m,preparation=none'",
        "garment plan other --need 'role=shell,kind=cloth,length=2m,width=1.40m,preparation=none'",
        "workshop set --end-allowance 0cm",
        "reserve G1 shell --from L1.1",
        "quote make G1 --margin 0%",
        "buy charge P1 freight=50",
        "quote again Q1",
        "quote make G2 --margin 0%",
    ]);
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["reservations"][0]["cost"],
        "30"
    );
    assert_eq!(cost(&workshop, "G1"), ("30.00".into(), "0.00".into()));
    assert_eq!(
        (quoted(&workshop, "Q1"), quoted(&workshop, "Q2")),
        ("30.00".into(), "30.00".into())
    );
    assert_eq!(
        workshop.json("candidates G2")["needs"][0]["serve"][0]["cost"],
        "30"
    );
    assert_eq!(workshop.json("cut G1 shell")["cost"], "30");
    assert_eq!(cost(&workshop, "G1"), ("30.00".into(), "30.00".into()));
    workshop.audit();
}

/// IAS 2 paras 25-27, by hand: ten at 1.00 and ten at 3.00 are 2.00 each on average.
#[test]
fn a_dearer_purchase_is_in_the_average_of_what_is_promised() {
    let workshop = with_buttons("average");
    workshop.all(&["buy --line 'material=horn button,kind=trim,paid=10,price=30'"]);
    assert_eq!(cost(&workshop, "G1"), ("20.00".into(), "0.00".into()));
    assert_eq!(workshop.json("cut G1 buttons")["cost"], "20");
    assert_eq!(cost(&workshop, "G1"), ("20.00".into(), "20.00".into()));
    workshop.audit();
}

/// First in, first out: what another garment took of the old layer is not there any more.
#[test]
fn a_promise_costs_the_next_layer_once_another_garment_took_the_old_one() {
    let workshop = with_buttons("fifo");
    workshop.all(&["buy --line 'material=horn button,kind=trim,paid=10,price=30'"]);
    assert_eq!(
        cost(&workshop, "G1"),
        ("10.00".into(), "0.00".into()),
        "the old layer comes first"
    );
    workshop.all(&["cut G2 buttons 10 --from L2.1"]);
    assert_eq!(cost(&workshop, "G1"), ("30.00".into(), "0.00".into()));
    assert_eq!(workshop.json("cut G1 buttons")["cost"], "30");
    assert_eq!(cost(&workshop, "G1"), ("30.00".into(), "30.00".into()));
    workshop.audit();
}

/// Derived: together twenty buttons cost 40.00, so no two promises count the same ten for 10.00; what is not promised yet
/// comes after them.
#[test]
fn promises_share_the_layers_in_the_order_they_were_made() {
    let workshop = with_buttons("fifo");
    workshop.all(&[
        "buy --line 'material=horn button,kind=trim,paid=10,price=30'",
        "buy --line 'material=horn button,kind=trim,paid=10,price=50'",
        "reserve G2 buttons --from L3.1",
        "garment plan third --need 'role=buttons,kind=trim,count=5,mixing=yes' \
         --need 'role=cuffs,kind=trim,material=horn button,count=5,mixing=yes'",
        "quote make G3 --margin 0%",
    ]);
    let planned = |garment| cost(&workshop, garment).0;
    assert_eq!(
        (planned("G1"), planned("G2")),
        ("10.00".into(), "30.00".into())
    );
    assert_eq!(
        workshop.json("candidates G3 --need buttons")["needs"][0]["serve"][0]["cost"],
        "25"
    );
    let costs = workshop.json("quote show Q1")["inside"]["costs"].clone();
    assert_eq!(
        (&costs[0]["printed"], &costs[1]["printed"]),
        (&"25.00".into(), &"25.00".into())
    );
    // Who cuts first takes the oldest; what was planned stays, and the other's plan is what is left.
    assert_eq!(workshop.json("cut G2 buttons 4")["cost"], "4");
    assert_eq!(planned("G1"), "18.00", "6 at 1.00 and 4 at 3.00");
    assert_eq!(planned("G2"), "30.00", "4 and 6 at 3.00, as before");
    workshop.all(&["undo --yes"]);
    assert_eq!(
        (planned("G1"), planned("G2")),
        ("10.00".into(), "30.00".into())
    );
    // A promise that undo makes again keeps its place.
    workshop.all(&["release R1", "undo --yes"]);
    assert_eq!(
        (planned("G1"), planned("G2")),
        ("10.00".into(), "30.00".into())
    );
    workshop.audit();
}

/// Derived: one need from two pieces whose lots have other prices counts each layer once.
#[test]
fn what_is_picked_of_several_pieces_counts_each_layer_once() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=thread,kind=thread,paid=100m,price=1'",
        "buy --line 'material=thread,kind=thread,paid=100m,price=3'",
        "garment plan shirt --count 2 --need 'role=thread,kind=thread,length=80m,mixing=yes'",
        "quote make G1 --margin 0%",
        "reserve G1 --all --yes",
    ]);
    // 160 m: 100 at 0.01, 60 at 0.03.
    let costs = workshop.json("quote show Q1")["inside"]["costs"].clone();
    assert_eq!(
        (&costs[0]["printed"], &costs[1]["printed"]),
        (&"0.80".into(), &"2.00".into())
    );
    assert_eq!(cost(&workshop, "G1").0, "2.80");
}

/// Common practice: the quantity that was planned is that of the promise, whatever the last cut leaves of it.
#[test]
fn a_last_cut_keeps_the_plan_of_all_that_was_held() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "workshop set --end-allowance 0cm",
        "garment plan one --need 'role=shell,kind=cloth,length=2m,width=1.40m,preparation=none'",
        "reserve G1 shell --from L1.1",
        "cut G1 shell 1.50m",
    ]);
    assert_eq!(cost(&workshop, "G1"), ("20.00".into(), "15.00".into()));
    workshop.all(&["cut G1 shell 0.30m --last"]);
    let line = workshop.json("cost G1")["lines"][0].clone();
    assert_eq!(
        (&line["planned_quantity"], &line["actual_quantity"]),
        (&"2.00 m".into(), &"1.80 m".into())
    );
    assert_eq!(cost(&workshop, "G1"), ("20.00".into(), "18.00".into()));
    workshop.all(&["undo --yes", "undo --yes"]);
    assert_eq!(cost(&workshop, "G1"), ("20.00".into(), "0.00".into()));
    workshop.audit();
}
