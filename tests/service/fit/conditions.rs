//! What a need asks of a piece beside its length: asked about when it is cut, judged after its preparation, looked at again when it
//! changes. Numbers by hand; what a maker may do is common practice.

use crate::Workshop;

fn cloth(workshop: &Workshop, lines: &[&str]) {
    for line in lines {
        workshop.all(&[&format!("buy --line '{line}'")]);
    }
}

fn state(workshop: &Workshop, garment: &str) -> String {
    let shown = workshop.json(&format!("garment show {garment}"));
    shown["needs"][0]["reservations"]
        .as_array()
        .unwrap()
        .last()
        .unwrap()["state"]
        .as_str()
        .unwrap()
        .to_owned()
}

#[test]
fn another_customers_cloth_is_cut_for_nobody_else() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=silk,kind=cloth,paid=3m,price=0,owner=First,full-width=150cm'",
        "garment plan blouse --for Second --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
    ]);
    for why in [
        "",
        " --really",
        " --reason own-mistake",
        " --reason swatch",
        " --reason toile",
    ] {
        workshop
            .run(&format!("cut G1 shell 1m --from L1.1{why}"))
            .refused(
                1,
                &["L1.1 cannot serve the shell: it belongs to customer C1"],
            );
    }
    workshop.audit();
}

/// A cut of what was not promised is asked about once, with all that a promise would have been refused for.
#[test]
fn a_cut_asks_what_a_promise_would_have_been_refused_for() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &[
            "material=cotton,kind=cloth,fibres=cotton,paid=3m,price=30,full-width=90cm",
            "material=canvas,kind=interlining,paid=3m,price=30,full-width=150cm",
        ],
    );
    workshop.all(&[
        "garment plan apron --need 'role=shell,kind=cloth,length=1m,width=140cm,fibre=wool,preparation=none'",
    ]);
    let refused = [
        "L1.1 for the shell: it has no wool; 90 cm usable, the need asks for 140 cm",
        "--really",
    ];
    workshop
        .run("cut G1 shell 1m --from L1.1")
        .refused(1, &refused);
    workshop
        .run("cut G1 shell 1m --from L2.1")
        .refused(1, &["it is interlining; the need asks for cloth"]);
    assert_eq!(
        workshop.json("lot show L1")["pieces"][0]["on_hand"]["length_m"],
        "3",
        "nothing was cut"
    );
    let cut = workshop.json("cut G1 shell 1m --from L1.1 --really");
    let note = cut["notes"][0].as_str().unwrap();
    let said = "cut anyway: it has no wool; 90 cm usable, the need asks for 140 cm";
    assert!(note.starts_with(said), "{note}");
    // A toile or a swatch is of any cloth.
    workshop.all(&["cut G1 shell 10cm --from L2.1 --reason toile"]);
    workshop.audit();
}

#[test]
fn a_second_lot_and_a_broken_set_are_asked_about() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &[
            "material=linen,kind=cloth,paid=3m,price=30,full-width=150cm",
            "material=linen,kind=cloth,paid=3m,price=30,full-width=150cm",
            "material=button,kind=trim,paid=3pcs,price=3",
            "material=button,kind=trim,paid=3pcs,price=3",
        ],
    );
    workshop.all(&[
        "garment plan apron --count 2 --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none' \
         --need 'role=buttons,kind=trim,count=6,matching=yes'",
        "cut G1 shell 1m --from L1.1",
        "cut G1 buttons 3 --from L3.1",
    ]);
    workshop.run("cut G1 shell 1m --from L2.1").refused(
        1,
        &[
            "L2.1 is not of L1, the lot already taken for the shell",
            "--really",
        ],
    );
    workshop.run("cut G1 buttons 3 --from L4.1").refused(
        1,
        &[
            "L4.1 is not of L3, the lot already taken for the buttons",
            "--really",
        ],
    );
    workshop.all(&["cut G1 shell 1m --from L2.1 --really"]);
    workshop.audit();
}

/// Cut raw, a "washed" need's cloth is as short as it shrinks: asked before, not noted after.
#[test]
fn raw_cloth_for_a_washed_need_is_asked_about() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &["material=linen,kind=cloth,paid=10m,price=100,full-width=150cm,shrinkage=4%/2%"],
    );
    workshop.all(&[
        "garment plan apron --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=washed x2'",
        "reserve G1 shell --from L1.1",
    ]);
    let asked = ["it is still raw; the need asks for washed x2", "--really"];
    workshop.run("cut G1 shell").refused(1, &asked);
    workshop.all(&["wash done L1.1 --preparation washed --length 9.60m"]);
    workshop
        .run("cut G1 shell")
        .refused(1, &["it was washed; the need asks for washed x2"]);
    workshop.all(&[
        "wash done L1.1 --preparation washed --length 9.60m",
        "cut G1 shell",
    ]);
    workshop.audit();
}

/// Six parts in a hundred of the mass come from the wash: 300 ÷ (0.96 × 0.98) = 318.878 g/m².
#[test]
fn mass_is_judged_after_the_preparation() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &[
            "material=linen,kind=cloth,paid=10m,price=100,full-width=150cm,mass=300gsm,shrinkage=4%/2%",
        ],
    );
    let plan = |most: &str| {
        format!(
            "garment plan apron --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=washed,mass-max={most}'"
        )
    };
    workshop.all(&[&plan("300gsm"), &plan("319gsm")]);
    let why = "318.878 g/m² after preparation; the need asks for at most 300 g/m²";
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &[why.trim_end_matches(" g/m²")]);
    workshop.all(&[
        "reserve G2 shell --from L1.1",
        "wash done L1.1 --length 9.6m --width 147cm",
    ]);
    assert_eq!(state(&workshop, "G2"), "active");
    workshop.audit();
}

/// Each step toward the preparation keeps the promise; what leads elsewhere breaks it.
#[test]
fn each_step_toward_the_preparation_keeps_the_promise() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &["material=linen,kind=cloth,paid=10m,price=100,full-width=150cm"],
    );
    workshop.all(&[
        // 4 % and then 1 % of what is left: 96 % and 95.04 %.
        "wash test L1 --preparation 'washed x2' --length 100cm=96cm=95.04cm --width 100cm=98cm=98cm",
        "garment plan apron --need 'role=shell,kind=cloth,length=9.464m,width=140cm,preparation=washed x2'",
        "reserve G1 shell --from L1.1",
        "wash done L1.1 --length 9.60m --width 147cm",
    ]);
    assert_eq!(state(&workshop, "G1"), "active");
    let once = workshop.json("garment show G1")["needs"][0]["reservations"][0].clone();
    assert_eq!(once["held"]["length_m"], "9.6");
    assert_eq!(
        once["steps"][1],
        "9.504 m ÷ 99/100 left lengthwise (0.9900) = 9.60 m as it is now"
    );
    let washed = workshop.json("wash done L1.1 --length 9.504m --width 147cm");
    assert_eq!(washed["broken"].as_array().unwrap().len(), 0);
    assert_eq!(state(&workshop, "G1"), "active");
    workshop.audit();
}

#[test]
fn steamed_cloth_can_be_washed_and_raw_means_raw() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &["material=wool,kind=cloth,paid=10m,price=100,full-width=150cm,shrinkage=4%/2%"],
    );
    let plan = |preparation: &str| {
        format!(
            "garment plan coat --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation={preparation}'"
        )
    };
    workshop.all(&[
        &plan("washed"),
        &plan("none"),
        &plan("raw"),
        "reserve G1 shell --from L1.1",
        "reserve G2 shell --from L1.1",
        "reserve G3 shell --from L1.1",
        "wash done L1.1 --preparation steamed --length 9.90m --width 149cm",
    ]);
    // (1 + 0.04) ÷ 0.96 = 1.0833 m, the most that it still shrinks.
    assert_eq!(
        (
            state(&workshop, "G1").as_str(),
            state(&workshop, "G2").as_str()
        ),
        ("active", "active")
    );
    let why = &workshop.json("garment show G3")["needs"][0]["reservations"][0]["ended_because"];
    assert!(
        why.as_str()
            .unwrap()
            .contains("it was steamed, the need asks for raw"),
        "{why}"
    );
    let shown = workshop.json("garment show G1")["needs"][0]["reservations"][0].clone();
    assert!(
        shown["shrinkage"].as_str().unwrap().contains("estimated"),
        "{shown}"
    );
    workshop.all(&["wash done L1.1 --preparation washed --length 9.60m --width 147cm"]);
    assert_eq!(
        (
            state(&workshop, "G1").as_str(),
            state(&workshop, "G2").as_str()
        ),
        ("active", "active")
    );
    workshop
        .run("wash done L1.1 --preparation steamed --length 9.60m")
        .refused(1, &["L1.1 was already washed", "lot measure"]);
    workshop.all(&["undo --yes", "undo --yes"]);
    assert_eq!(state(&workshop, "G3"), "active");
    workshop.audit();
}

/// What was measured after washing was washed: the same act under either name.
#[test]
fn measuring_after_washing_is_washing() {
    let after = |line: &str| {
        let workshop = Workshop::new();
        cloth(
            &workshop,
            &["material=linen,kind=cloth,paid=10m,price=100,full-width=150cm,shrinkage=4%/2%"],
        );
        workshop.all(&[
            "garment plan apron --count 2 --need 'role=shell,kind=cloth,length=4.70m,width=140cm,preparation=washed'",
            "reserve G1 shell --from L1.1",
            line,
        ]);
        let (lot, state) = (
            workshop.json("lot show L1")["pieces"][0].clone(),
            state(&workshop, "G1"),
        );
        workshop.all(&["undo --yes"]);
        assert!(workshop.json("lot show L1")["pieces"][0]["preparation"].is_null());
        workshop.audit();
        (lot, state)
    };
    let measured = after("lot measure L1.1 9.60m --width 147cm --after washing");
    assert_eq!(measured.0["preparation"], "washed");
    assert_eq!(measured.1, "active");
    assert_eq!(
        measured,
        after("wash done L1.1 --preparation washed --length 9.60m --width 147cm")
    );
}

#[test]
fn what_changes_a_condition_settles_the_promises_that_rest_on_it() {
    let workshop = Workshop::new();
    cloth(
        &workshop,
        &[
            "material=canvas,kind=interlining,fusible=false,paid=3m,price=30,full-width=150cm,mass=200gsm",
        ],
    );
    let need = "role=front,kind=interlining,length=50cm,width=40cm,preparation=none";
    workshop.all(&[
        "lot stiffness L1 --lengthwise 62mm --crosswise 62mm",
        &format!("garment plan coat --need '{need},fusible=no'"),
        &format!("garment plan coat --need '{need},grain=lengthwise,stiffness-min=20uNm'"),
        "reserve G1 front --from L1.1",
        "reserve G2 front --from L1.1",
    ]);
    let edited = workshop.json("lot edit L1 --fusible yes");
    assert_eq!(edited["broken"][0]["reservation"], "R1");
    workshop.all(&["undo --yes"]);
    assert_eq!(state(&workshop, "G1"), "active");
    // 2 g·cm³: 200 g/m² × 9.80665 × (1 cm)³ = 1.96 µN·m at an overhang of 2 cm (Peirce, half the overhang).
    let tested = workshop.json("lot stiffness L1 --lengthwise 20mm");
    assert_eq!(tested["broken"][0]["reservation"], "R2");
    workshop.all(&["undo --yes"]);
    assert_eq!(state(&workshop, "G2"), "active");
    workshop.audit();
}

#[test]
fn a_promise_of_the_same_lot_follows_the_other_garments_lot() {
    let workshop = Workshop::new();
    let linen = "material=linen,kind=cloth,paid=5m,price=50,full-width=150cm";
    cloth(&workshop, &[linen, linen]);
    let need = "role=shell,kind=cloth,length=1m,width=140cm,preparation=none";
    workshop.all(&[
        &format!("garment plan jacket --need '{need}'"),
        &format!("garment plan waistcoat --need '{need},same-lot-as=G1'"),
        "reserve G1 shell --from L1.1",
        "reserve G2 shell --from L1.1",
        "release R1",
    ]);
    // The jacket has no lot now: nothing speaks against the waistcoat's.
    assert_eq!(state(&workshop, "G2"), "active");
    let moved = workshop.json("reserve G1 shell --from L2.1");
    let broken = &moved["broken"][0];
    assert_eq!(
        (&broken["reservation"], &broken["garment"]),
        (&"R2".into(), &"G2".into())
    );
    let why = broken["ended_because"].as_str().unwrap();
    assert!(why.contains("must come from the lot of G1: L2"), "{why}");
    assert_eq!(state(&workshop, "G2"), "broken");
    workshop.all(&["undo --yes"]);
    assert_eq!(state(&workshop, "G2"), "active");
    // A cut moves it as well.
    let cut = workshop.json("cut G1 shell 1.04m --from L2.1");
    assert_eq!(cut["broken"][0]["garment"], "G2");
    workshop.all(&["undo --yes"]);
    assert_eq!(state(&workshop, "G2"), "active");
    workshop.audit();
}

/// By hand, cut as it is at a step of 5 cm and 4 cm for the end: 2.00 m take 2.05 m and 2.04 m at the least; 87 cm 0.95 m and 0.91 m.
#[test]
fn what_is_left_of_a_promise_keeps_what_it_needs() {
    let need = |length: &str| {
        format!("--need 'role=shell,kind=cloth,length={length},width=140cm,preparation=none'")
    };
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=6.42m,price=60,full-width=150cm'",
        &format!("garment plan aprons --count 6 {}", need("87cm")),
        &format!("garment plan other {}", need("87cm")),
        "reserve G1 shell --from L1.1",
    ]);
    for _ in 0..5 {
        workshop.all(&["cut G1 shell 95cm"]);
    }
    // 72 cm are free, and 4 cm are the sixth's rounding.
    workshop
        .run("reserve G2 shell --from L1.1")
        .refused(1, &["L1.1 has 0.72 m free", "R1 holds 0.95 m"]);
    workshop.all(&["lot flaw L1.1 --at 0.30m --length 1cm"]);
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["reservations"][0]["held"]["length_m"],
        "0.95"
    );
    workshop.audit();

    // What was cut as it was needed leaves 1 cm of its promise, which is in nobody's way.
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4.09m,price=40,full-width=150cm'",
        &format!("garment plan one {}", need("2.00m")),
        &format!("garment plan other {}", need("2.00m")),
        "reserve G1 shell --from L1.1",
        "cut G1 shell 2.04m --last",
        "reserve G2 shell --from L1.1",
        "undo B5 --yes",
    ]);
    // The first is promised again at the least, since 2.04 m are left beside the second's 2.05 m.
    assert_eq!(state(&workshop, "G1"), "active");
    assert_eq!(state(&workshop, "G2"), "active");
    workshop.audit();
}
