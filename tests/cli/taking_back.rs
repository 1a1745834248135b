//! Undo books the opposite, and is refused only where later acts depend on the booking.

use crate::workshop::Workshop;

fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24",
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,shrinkage=5%/2%'",
        "garment plan dress --need 'role=shell,kind=cloth,length=1.50m,width=140cm,preparation=none' \
             --operation 'name=sewing,kind=hand,planned=3h'",
    ]);
    workshop
}

#[test]
fn every_kind_of_booking_is_taken_back_to_where_the_shelf_was() {
    for act in [
        "reserve G1 shell --from L1.1",
        "cut G1 shell 1.50m --from L1.1",
        "cut G1 shell 1.50m --from L1.1 --at 1m",
        "cut G1 shell 1.50m --from L1.1 --end inner",
        "cut G1 shell 3.90m --from L1.1",
        "cut G1 shell 1.50m --from L1.1 --panel 60cm --keep-strip",
        "cut G1 shell 1m --from L1.1 --reason own-mistake",
        "cut G1 shell 1m --from L1.1 --piece-was 3.90m",
        "wash done L1.1 --preparation washed --length 3.80m --width 147cm",
        "wash test L1 --preparation washed --length 350mm=334mm --swatch 50cmx50cm --from L1.1",
        "lot split L1.1 1m",
        "lot measure L1.1 3.95m",
        "lot flaw L1.1 --at 2m",
        "lot edit L1 --shrinkage 6%/2% --full-width 148cm",
        "lot edit L1 --dye-lot 4711 --place A9",
        "buy charge P1 'freight=5,by=value'",
        "work G1 sewing 1h",
        "garment finish G1",
        "garment cancel G1",
    ] {
        let workshop = stocked();
        let pieces = workshop.run("shelf --json").done().out;
        let purchase = workshop.json("buy show P1")["lines"][0]["landed"].clone();
        let dye_lot = workshop.json("lot show L1")["dye_lot"].clone();
        let garment = workshop.json("garment show G1");
        let cost = workshop.json("cost G1");
        workshop.all(&[act]);
        workshop.audit();
        workshop.all(&["undo --yes"]);
        workshop.audit();
        assert_eq!(workshop.run("shelf --json").done().out, pieces, "{act}");
        assert_eq!(workshop.json("buy show P1")["lines"][0]["landed"], purchase, "{act}");
        let mut after = workshop.json("garment show G1");
        let promises = std::mem::replace(&mut after["needs"][0]["reservations"], serde_json::json!([]));
        assert!(promises.as_array().unwrap().iter().all(|promise| promise["state"] == "released"), "{act}");
        assert_eq!(after, garment, "{act}");
        assert_eq!(workshop.json("lot show L1")["dye_lot"], dye_lot, "{act}");
        assert_eq!(workshop.json("cost G1"), cost, "{act}");
    }
}

/// What was taken back since does not stand in the way: one undo after another leads back to the first day.
#[test]
fn a_whole_day_is_taken_back_one_booking_at_a_time() {
    let workshop = stocked();
    let (shelf, lot) = (workshop.json("shelf"), workshop.json("lot show L1")["value_went"].clone());
    let day = [
        "lot flaw L1.1 --at 3m --note slub",
        "wash done L1.1 --preparation washed --length 3.80m",
        "cut G1 shell 50cm --from L1.1 --at 20cm",
        "lot split L1.1 30cm",
        "cut G1 shell 20cm --from L1.1",
        "lot measure L1.1 2.70m",
        "buy charge P1 'freight=5,by=value'",
        "cut G1 shell 20cm --from L1.1 --end inner",
        "lot flaw L1.1 --at 1m",
    ];
    workshop.all(&day);
    workshop.audit();
    for _ in day {
        workshop.all(&["undo --yes"]);
        workshop.audit();
    }
    assert_eq!(workshop.json("shelf"), shelf);
    assert_eq!(workshop.json("lot show L1")["value_went"], lot);
}

#[test]
fn two_cuts_of_one_promise_are_taken_back_to_the_whole_promise() {
    let workshop = stocked();
    workshop.all(&[
        "reserve G1 shell --from L1.1",
        "cut G1 shell 1m",
        "cut G1 shell 0.2m --last",
        "undo --yes",
        "undo --yes",
    ]);
    let piece = workshop.json("lot show L1")["pieces"][0].clone();
    assert_eq!(piece["on_hand"]["length_m"], "4");
    assert_eq!(piece["reserved"]["length_m"], "1.55", "the promise holds what it held");
    workshop.audit();
}

#[test]
fn a_later_cut_of_the_piece_does_not_block_but_a_wash_does() {
    let workshop = stocked();
    workshop.all(&["cut G1 shell 1m --from L1.1", "cut G1 shell 0.5m --from L1.1", "undo B3 --yes"]);
    assert_eq!(workshop.json("lot show L1")["pieces"][0]["on_hand"]["length_m"], "3.5");
    workshop.all(&["wash done L1.1 --preparation washed --length 3.3m --width 147cm"]);
    let before = workshop.dump();
    workshop.run("undo B4 --yes").refused(1, &["L1.1", "since"]);
    workshop.run("undo B3 --yes").refused(1, &["taken back already"]);
    workshop.run("undo B1 --yes").refused(1, &["L1.1"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}

#[test]
fn an_untouched_purchase_can_be_taken_back() {
    let workshop = Workshop::new();
    workshop.all(&["buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'", "undo --yes"]);
    assert!(workshop.json("shelf")["pieces"].as_array().unwrap().is_empty());
    assert_eq!(workshop.json("buy show P1")["home_total"], "0");
    workshop.audit();
}
