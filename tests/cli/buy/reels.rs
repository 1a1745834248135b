//! `ellwand buy` of thread: every reel is a piece.

use crate::Workshop;
use crate::stories::GREY;
use crate::stories::reels::on_hand;

/// Derived: three reels of 1000 m; 126 g less three of 12 g are 90 g of 30 tex, 3000 m; 1 kg of 30 tex over four, and the
/// metres add up.
#[test]
fn every_reel_that_was_bought_is_a_piece() {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=3 reels,reel-length=1000m,price=3.20/reel'"),
        "buy --line 'material=blue thread,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=126g,tare=12g,price=9.60'",
        "buy --line 'material=red thread,kind=thread,yarn-count=30tex,paid=1kg,reels=4,price=24'",
        "buy --line 'material=tan thread,kind=thread,paid=100m,reels=3,price=3'",
        "buy --line 'material=old thread,kind=thread,reels=2,measured=90m,price=0'",
    ]);
    let grey = workshop.json("lot show L1");
    assert_eq!(
        (on_hand(&grey), &grey["landed"]),
        (vec!["1000", "1000", "1000"], &"9.6".into())
    );
    assert_eq!(
        grey["pieces"][0]["estimated"], false,
        "the length of a full reel is stated"
    );
    let blue = workshop.json("lot show L2");
    assert_eq!(on_hand(&blue), ["1000", "1000", "1000"]);
    assert_eq!(blue["pieces"][2]["estimated"], true);
    assert_eq!(
        on_hand(&workshop.json("lot show L3")),
        ["8333.333334", "8333.333333", "8333.333333", "8333.333333"]
    );
    assert_eq!(
        on_hand(&workshop.json("lot show L4")),
        ["33.333334", "33.333333", "33.333333"]
    );
    assert_eq!(on_hand(&workshop.json("lot show L5")), ["45", "45"]);
    let report = workshop.run("lot show L2").done().out;
    assert!(
        report.contains("estimated") && report.contains("Ne 19.68"),
        "{report}"
    );
    assert!(
        workshop
            .run("material list --kind thread")
            .done()
            .out
            .contains("metric ticket about 100")
    );
    workshop.audit();
}

#[test]
fn reels_of_which_the_length_cannot_be_known_are_refused() {
    let workshop = Workshop::new();
    let before = workshop.dump();
    for (line, code, says) in [
        (
            "material=a,kind=thread,paid=3 reels,price=1",
            1,
            "the length of each is not given",
        ),
        (
            "material=a,kind=thread,paid=3 reels,line-mass=100g,price=1",
            1,
            "the yarn count is not known",
        ),
        (
            "material=a,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=30g,tare=12g,price=1",
            1,
            "the empty 3 reels, 36 g",
        ),
        (
            "material=a,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=0g,price=1",
            1,
            "weighs something",
        ),
        (
            "material=a,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=36g,tare=12g,price=1",
            1,
            "no length at all",
        ),
        (
            "material=a,kind=thread,paid=3 reels,reels=4,reel-length=100m,price=1",
            1,
            "3 reels were paid for, not 4",
        ),
        (
            "material=a,kind=thread,paid=5000m,reels=3,reel-length=1000m,price=1",
            1,
            "5000.00 m were paid for, but 3 reels of 1000.00 m hold 3000.00 m",
        ),
        (
            "material=a,kind=thread,paid=1000m,reels=3,reel-length=1000m,price=1",
            1,
            "1000.00 m were paid for, but 3 reels of 1000.00 m hold 3000.00 m",
        ),
        (
            "material=a,kind=thread,paid=100m,reels=0,price=1",
            1,
            "0 reels is not possible",
        ),
        (
            "material=a,kind=thread,paid=100m,reels=3,pieces=50m+50m,price=1",
            1,
            "3 reels came, but 2 lengths",
        ),
        (
            "material=a,kind=trim,unit=length,paid=100m,reels=3,price=1",
            1,
            "only thread comes on reels, not trim",
        ),
        (
            "material=a,kind=thread,yarn-count=0tex,paid=100m,price=1",
            2,
            "more than zero",
        ),
    ] {
        workshop
            .run(&format!("buy --line '{line}'"))
            .refused(code, &[says]);
    }
    assert_eq!(workshop.dump(), before);
}
