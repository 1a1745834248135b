//! `ellwand lot edit`: what was worked out from a figure follows its correction, and the screen says so.

use crate::Workshop;
use crate::stories::corrections::{cut_up, lengths, notes, widths};

/// Derived: 3 cm of selvedges are 3 cm of every piece but the washed ones, which had 2 % less of them, 2.94 cm.
#[test]
fn corrected_selvedges_reach_every_piece() {
    let workshop = cut_up();
    let before = (
        workshop.run("shelf --json --all").done().out,
        widths(&workshop),
    );
    let answer = workshop.json("lot edit L1 --selvedges 3cm");
    let pair = |full: &str, usable: &str| (full.to_owned(), usable.to_owned());
    let after = [
        pair("1.5", "1.47"),
        pair("1.47", "1.4406"),
        pair("1.49", "1.46"),
        pair("0.9", "0.87"),
        pair("1.47", "1.4406"),
    ];
    assert_eq!(widths(&workshop), after);
    for report in [
        "L1.1 is 150 cm wide now, 147 cm of it usable",
        "L1.2 is 147 cm wide now, 144.06 cm of it",
    ] {
        assert!(notes(&answer).contains(report), "{answer}");
    }
    workshop.audit();
    // As if the seller had said it at once.
    let at_once = Workshop::new();
    at_once.all(&[
        "buy --line 'material=linen,kind=cloth,paid=10m,price=100,full-width=150cm,selvedges=3cm,shrinkage=4%/2%'",
        "wash done L1.1 --preparation washed --length 9.60m",
    ]);
    assert_eq!(widths(&at_once), [pair("1.47", "1.4406")]);
    // Corrected once more, in proportion again; then back, step by step.
    workshop.all(&["lot edit L1 --selvedges 2cm"]);
    assert_eq!(widths(&workshop)[1], pair("1.47", "1.4504"));
    workshop.all(&["undo --yes"]);
    assert_eq!(widths(&workshop), after);
    workshop.all(&["undo --yes"]);
    assert_eq!(
        (
            workshop.run("shelf --json --all").done().out,
            widths(&workshop)
        ),
        before
    );
    workshop.audit();
}

/// By hand: 1.2 kg at 1.50 m are 4.00 m of 200 g/m² and 3.20 m of 250.
#[test]
fn cloth_by_weight_follows_a_corrected_mass() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=1.2kg,price=40,full-width=150cm,mass=200gsm'",
        "garment plan dress --need 'role=shell,kind=cloth,length=3.50m,width=140cm,preparation=none'",
        "reserve G1 shell --from L1.1",
    ]);
    assert_eq!(lengths(&workshop, "L1"), ["4"]);
    let before = workshop.run("shelf --json").done().out;
    let answer = workshop.json("lot edit L1 --mass 250gsm");
    assert!(
        notes(&answer).contains("L1.1 by its weight: 4.00 m → 3.20 m, estimated"),
        "{answer}"
    );
    assert_eq!(answer["broken"][0]["reservation"], "R1");
    assert_eq!(lengths(&workshop, "L1"), ["3.2"]);
    let piece = workshop.json("lot show L1")["pieces"][0].clone();
    assert_eq!(
        (&piece["value"], &piece["estimated"]),
        (&"40".into(), &true.into()),
        "the value stays"
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(workshop.run("shelf --json").done().out, before);
    // A full width of 160 cm of the same mass: 3.75 m; and both corrected one by one come to what both at once do.
    workshop.all(&["release --garment G1", "lot edit L1 --full-width 160cm"]);
    assert_eq!(lengths(&workshop, "L1"), ["3.75"]);
    workshop.all(&[
        "lot edit L1 --mass 250gsm",
        "lot edit L1 --mass 200gsm --full-width 150cm",
    ]);
    assert_eq!(lengths(&workshop, "L1"), ["4"]);
    workshop.audit();
}

/// The definition of tex, g/km: 30 g of 30 tex are 1000 m, of 60 tex 500 m.
#[test]
fn a_reel_by_weight_follows_a_corrected_count() {
    for method in ["fifo", "average"] {
        let workshop = Workshop::new();
        let thread = "kind=thread,yarn-count=30tex";
        workshop.all(&[
            &format!("workshop set --pooled-method {method}"),
            &format!("buy --line 'material=grey thread,{thread},paid=30g,price=10'"),
            &format!("buy --line 'material=red thread,{thread},paid=1kg,reels=3,price=24'"),
            &format!(
                "buy --line 'material=blue thread,{thread},paid=2 reels,line-mass=84g,tare=12g,price=9'"
            ),
        ]);
        assert_eq!(lengths(&workshop, "L1"), ["1000"]);
        let before = workshop.run("shelf --json").done().out;
        let stock = workshop.json("lot show L1")["stock"].clone();
        let answer = workshop.json("lot edit L1 --yarn-count 60tex");
        assert!(
            notes(&answer).contains("L1.1 by its weight: 1000.00 m → 500.00 m, estimated"),
            "{answer}"
        );
        assert_eq!(lengths(&workshop, "L1"), ["500"]);
        let now = workshop.json("lot show L1")["stock"].clone();
        assert_eq!(
            (&now["quantity"]["length_m"], &now["value"]),
            (&"500".into(), &"10".into()),
            "{method}"
        );
        workshop.audit();
        workshop.all(&["undo --yes"]);
        assert_eq!(workshop.json("lot show L1")["stock"], stock);
        // A finer thread is longer, and needs no word for it. 1 kg over three reels of 15 tex: 66 666.67 m in all.
        workshop.all(&[
            "lot edit L1 --yarn-count 15tex",
            "lot edit L2 --yarn-count 15tex",
        ]);
        assert_eq!(lengths(&workshop, "L1"), ["2000"]);
        assert_eq!(
            lengths(&workshop, "L2"),
            ["22222.222222", "22222.222222", "22222.222222"]
        );
        workshop.audit();
        workshop.all(&["undo --yes", "undo --yes"]);
        // 84 g less two empty reels of 12 g are 30 g on each; of 15 g 27 g, 900 m.
        assert_eq!(lengths(&workshop, "L3"), ["1000", "1000"]);
        workshop.all(&["lot edit L3 --tare 15g"]);
        assert_eq!(lengths(&workshop, "L3"), ["900", "900"]);
        workshop
            .run("lot edit L3 --tare 42g")
            .refused(1, &["L3.1", "hint: "]);
        workshop.all(&["undo --yes"]);
        // What was paid for by mass is net: its reel weighs nothing of it.
        workshop.all(&["lot edit L1 --tare 5g"]);
        assert_eq!(lengths(&workshop, "L1"), ["1000"]);
        workshop.all(&["undo --yes"]);
        assert_eq!(workshop.run("shelf --json").done().out, before);
        workshop.audit();
    }
}
