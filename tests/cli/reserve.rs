//! `ellwand reserve`: the best pieces for every need, and several reels at once.

use crate::Workshop;
use crate::stories::reels::with_reels;
use crate::stories::together::{promised, shelf};

const ANY: &str = "--need 'role=any,kind=cloth,length=2m,width=70cm,preparation=none'";

const COTTON: &str =
    "--need 'role=cotton,kind=cloth,length=2m,width=70cm,preparation=none,material=cotton'";

/// A need split over pieces: what is promised already is not asked for again.
#[test]
fn only_what_parts_leave_is_promised_by_all() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=10m,price=100,full-width=150cm'",
        "garment plan skirt --need 'role=s,kind=cloth,length=2m,width=1m,preparation=none,longest-part=50cm'",
        "reserve G1 s --from L1.1 --washed-length 1.2m",
        "reserve G1 --all --yes",
    ]);
    let shown = workshop.json("garment show G1")["needs"][0]["reservations"].clone();
    let held: Vec<&str> = shown
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["held"]["length_m"].as_str().unwrap())
        .collect();
    // 1.20 + 0.04 and 0.80 + 0.04, up to 5 cm.
    assert_eq!(held, ["1.25", "0.85"]);
    workshop
        .run("reserve G1 --all --yes")
        .refused(1, &["no open needs"]);
    workshop.audit();
}

#[test]
fn no_single_lot_has_enough_is_said_as_such() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=btn,kind=trim,paid=7,price=10' --line 'material=btn,kind=trim,paid=3,price=1'",
        "garment plan vest --count 3 --need 'role=b,kind=trim,count=3'",
    ]);
    workshop.run("reserve G1 --all --yes").refused(
        1,
        &[
            "no single lot has enough",
            "L1 has 7 free, 2 missing; L2 has 3 free, 6 missing",
            "mixing=yes",
        ],
    );
}

#[test]
fn reels_that_no_lot_can_give_are_refused_with_the_nearest_lots() {
    let workshop = with_reels("reels=6", 1);
    let before = workshop.dump();
    workshop.run("reserve G1 --all --yes").refused(
        1,
        &[
            "no lot has 6 reels with 33.34 m free each",
            "L2 has 5, L1 has 3",
            "nothing was reserved",
        ],
    );
    assert_eq!(workshop.dump(), before);
    assert!(
        workshop
            .run("candidates G1")
            .done()
            .out
            .contains("L2 has 5, L1 has 3")
    );
    // Where lots may be mixed all eight serve.
    workshop.all(&[
        "garment edit G1 --need 'role=overlock thread,kind=thread,length=200m,reels=6,mixing=yes'",
        "reserve G1 --all --yes",
    ]);
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["units_reserved"],
        6
    );
    // Another number of reels is another plan; another length is held at once.
    workshop
        .run("garment edit G1 --need 'role=overlock thread,kind=thread,length=200m,reels=4,mixing=yes'")
        .refused(1, &["promised or cut as 6", "release its promises first"]);
    workshop.all(&[
        "garment edit G1 --need 'role=overlock thread,kind=thread,length=240m,reels=6,mixing=yes'",
    ]);
    let held = &workshop.json("garment show G1")["needs"][0]["reservations"][0]["held"]["length_m"];
    assert_eq!(held, "40");
    for (need, says) in [
        (
            "role=t,kind=thread,length=9m,reels=0",
            "0 reels at once are not possible",
        ),
        (
            "role=t,kind=thread,length=9m,reels=101",
            "101 reels at once are not possible",
        ),
        (
            "role=t,kind=cloth,length=9m,reels=2",
            "reels are for thread",
        ),
        ("role=t,kind=thread,reels=2", "has no length"),
    ] {
        workshop
            .run(&format!("garment plan x --need '{need}'"))
            .refused(1, &[says]);
    }
    let too_long = with_reels("reels=2,mixing=yes", 2);
    too_long.run("reserve G1 --all --yes").refused(
        1,
        &[
            "no lot has even one reel with 200.00 m free",
            "get reels that hold more",
            "raise reels=2",
        ],
    );
    workshop.audit();
}

/// By hand: linen 3.1 m, cotton 2.1 m, 2 m of any and 2 m of cotton. With 4 cm for the end each takes 2.04 m, rounded up
/// 2.05 m, and leaves 1.05 m of the linen and 0.05 m of the cotton, of which common practice keeps what has 30 cm.
#[test]
fn the_order_of_the_plan_does_not_decide_what_is_served() {
    for needs in [format!("{ANY} {COTTON}"), format!("{COTTON} {ANY}")] {
        let workshop = shelf();
        workshop.all(&[&format!("garment plan coat {needs}")]);
        let found = workshop.json("candidates G1");
        for need in found["needs"].as_array().unwrap() {
            let note = need["notes"][0].as_str().unwrap();
            let report = [
                "chosen together: ",
                "any from L1.1",
                "cotton from L2.1",
                "least waste",
                "0.05 m of L2.1",
            ];
            for part in report {
                assert!(note.contains(part), "no \"{part}\" in: {note}");
            }
        }
        let said = workshop.run("reserve G1 --all --yes").done();
        assert!(said.out.contains("chosen together: "), "{}", said.out);
        let served = [("any", "L1.1"), ("cotton", "L2.1")];
        let served = served.map(|(role, piece)| (role.to_owned(), vec![piece.to_owned()]));
        assert_eq!(promised(&workshop), served);
        workshop.audit();
        workshop.all(&["undo --yes"]);
        // The same with a quotation.
        let quoted = workshop.run("quote make G1 --markup 20% --reserve").done();
        assert!(
            format!("{}{}", quoted.out, quoted.err).contains("chosen together: "),
            "{}",
            quoted.out
        );
        assert_eq!(promised(&workshop), served);
        workshop.audit();
    }
}

/// Derived: 3.1 m serve one of two needs of 2 m; the other is reported where it went.
#[test]
fn what_cannot_be_served_beside_the_others_says_who_has_it() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3.1m,price=31'",
        "garment plan coat --need 'role=body,kind=cloth,length=2m,width=70cm,preparation=none' \
             --need 'role=cape,kind=cloth,length=2m,width=70cm,preparation=none'",
    ]);
    workshop
        .run("reserve G1 --all --yes")
        .refused(1, &["for its cape", "other needs: body from L1.1"]);
    assert_eq!(
        workshop.json("candidates G1")["needs"][0]["picks"][0]["piece"],
        "L1.1"
    );
}

#[test]
fn a_refusal_says_what_is_in_the_way() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=cotton,kind=thread,paid=1000m,price=4,colour=white' \
             --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan top --need 'role=thread,kind=thread,length=200m,colour=navy'",
        "garment plan vest --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
        "reserve G2 shell --from L2.1",
    ]);
    workshop.run("reserve G1 --all").refused(
        1,
        &["nothing on the shelf suits it: L1.1 cotton: it is white, the need asks for navy"],
    );
    workshop.run("reserve G2 shell --from L2.1").refused(
        1,
        &[
            "the shell is already fully promised or cut, by R1",
            "ellwand release R1",
        ],
    );
}

#[test]
fn a_promise_has_the_last_day_that_was_typed() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3m,price=30'",
        "garment plan top --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
    ]);
    let made = workshop.json("reserve G1 shell --from L1.1 --until 2026-10-20");
    assert_eq!(made["reservations"][0]["until"], "2026-10-20");
    workshop
        .run("reserve G1 --all --yes --until 2026-10-20")
        .refused(1, &["no open needs"]);
}

#[test]
fn thread_without_a_colour_is_asked_for() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=cotton thread,kind=thread,paid=1000m,price=4,colour=navy'",
        "garment plan shirt --need 'role=thread,kind=thread,length=120m'",
    ]);
    let before = workshop.dump();
    workshop.run("reserve G1 --all --yes").refused(
        1,
        &[
            "the thread names no colour; what serves is navy",
            "nothing was reserved; choose one: ellwand garment edit G1 --need 'role=thread,colour=navy'",
        ],
    );
    assert_eq!(workshop.dump(), before);
    let shown = workshop.joined_output("candidates G1");
    assert!(
        shown.contains("Undecided: the thread names no colour; what serves is navy"),
        "{shown}"
    );
    workshop.all(&[
        "garment edit G1 --need 'role=thread,colour=navy'",
        "reserve G1 --all --yes",
    ]);
}
