//! Losses of cloth that are beyond reason are asked about, all of them at once.

use crate::Workshop;

fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,mass=180gsm' \
             --line 'material=roll,kind=cloth,paid=25kg,price=300.00,full-width=150cm,mass=180gsm' \
             --line 'material=silk,kind=thread,yarn-count=30tex,paid=100m,price=4'",
    ]);
    workshop
}

/// The limits are common practice: more than 20 % lengthwise, 10 % crosswise, 2 % wider than the lot.
#[test]
fn a_loss_beyond_reason_is_asked_about() {
    let workshop = stocked();
    let length = "lengthwise (20 % at most is usual)";
    let wide = "above its lot's (2 % at most is usual)";
    let cases: Vec<(&str, Vec<&str>)> = vec![
        (
            "wash test L1 --length 35cm=1mm",
            vec!["the swatch shows a loss of 99.8 %", length],
        ),
        (
            "wash test L1 --preparation 'washed x2' --length 35cm=1mm=34cm",
            vec!["a loss of 99.8 %", length],
        ),
        (
            "wash test L1 --length 35cm=34cm --width 35cm=30cm",
            vec!["14.3 % crosswise (10 % at most is usual)"],
        ),
        (
            "lot weigh L2.1 1oz",
            vec!["L2.1 shows a loss of 99.9 %", length],
        ),
        (
            "wash done L1.1 --length 1cm",
            vec!["L1.1 shows a loss of 99.8 %", length],
        ),
        (
            "wash done L1.1 --length 3.9m --width 5m",
            vec!["233.4 %", wide],
        ),
        (
            "wash done L1.1 --length 1cm --width 5m",
            vec!["a loss of 99.8 %", " and ", "a width 233.4 %"],
        ),
        (
            "wash done L1.1 --length 1cm --width 100cm",
            vec!["lengthwise", " and a loss of 33.4 % crosswise"],
        ),
        ("lot measure L1.1 1cm", vec!["a loss of 99.8 %", length]),
        ("lot measure L1.1 4m --width 154cm", vec!["2.7 %", wide]),
        (
            "material edit M1 --shrinkage 90%/50%",
            vec!["a loss of 90 %", " and a loss of 50 % crosswise"],
        ),
    ];
    let before = workshop.dump();
    for (line, parts) in cases {
        workshop
            .run(line)
            .refused(1, &[&parts[..], &["--really"]].concat());
        assert_eq!(workshop.dump(), before, "changed by: ellwand {line}");
    }
    workshop.all(&[
        "wash test L1 --length 35cm=1mm --really",
        "lot weigh L2.1 1oz --really",
        "wash done L1.1 --length 1cm --width 5m --really",
        "material edit M1 --shrinkage 90%/50% --really",
    ]);
    workshop.audit();
}

/// What is usual is not asked about, nor how much thread is left.
#[test]
fn what_is_usual_is_not_asked_about() {
    let workshop = stocked();
    workshop.all(&[
        "wash test L1 --length 35cm=28cm --width 35cm=31.5cm",
        "wash done L1.1 --length 3.2m --width 135cm",
        "lot measure L3.1 1m",
    ]);
    workshop.audit();
}

/// Derived: 4 m that lose 30 % are 2.80 m.
#[test]
fn a_loss_that_was_confirmed_before_is_expected() {
    let workshop = stocked();
    workshop.all(&[
        "lot edit L1 --shrinkage 30%/15% --really",
        "wash done L1.1 --length 2.80m --width 127.5cm",
    ]);
    workshop.all(&["undo --yes"]);
    workshop
        .run("wash done L1.1 --length 2.79m")
        .refused(1, &["30.3 % lengthwise (30 % at most is usual)"]);
    workshop.audit();
}

/// What the piece was before a cut is measured, too.
#[test]
fn what_a_piece_was_before_a_cut_is_asked_about() {
    let workshop = stocked();
    workshop.all(&[
        "garment plan bag --need 'role=base,kind=cloth,length=50cm,width=60cm,preparation=none'",
    ]);
    workshop
        .run("cut G1 base 50cm --from L1.1 --piece-was 3m")
        .refused(1, &["a loss of 25 %", "--really"]);
    workshop.all(&["cut G1 base 50cm --from L1.1 --piece-was 3m --really"]);
    workshop.audit();
}
