//! `ellwand candidates`: what can serve a need, and what it would cost.

use crate::{Workshop, stories::two_lots};

/// 90 m were used from the reel of L2 for anyone and cost the layer of L1, which has 10 m left: who insists on L1
/// and takes 30 m pays 10 m of it and 20 m of L2 (derived; costing.md a-15).
#[test]
fn a_layer_that_others_used_up_is_filled_from_the_next() {
    let workshop = two_lots("fifo");
    workshop.all(&[
        "garment plan any --need 'role=thread,kind=thread,length=90m'",
        "garment plan own --need 'role=thread,kind=thread,length=30m,lot=L1'",
        "cut G1 thread 90m --from L2.1",
    ]);
    let own = workshop.json("cut G2 thread 30m --from L1.1");
    assert_eq!(
        (&own["cost"], own["from_layers"].as_array().unwrap().len()),
        (&"5".into(), 2)
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    let shown = workshop.run("cut G2 thread 30m --from L1.1").done().out;
    assert!(
        shown.contains(
            "its cost: 10.00 m of what was bought as L1 (1.00 EUR), 20.00 m of what was bought as L2 (4.00 EUR)"
        ),
        "{shown}"
    );
    workshop.audit();
}

/// A shelf of 14 other cloths, five that serve and three that are too short.
fn many() -> Workshop {
    let workshop = Workshop::new();
    let line = |name: &str, length: &str| {
        format!("--line 'material={name},kind=cloth,paid={length},price=30,full-width=150cm'")
    };
    let others: Vec<String> = (1..=14)
        .map(|n| line(&format!("other {n}"), "3m"))
        .collect();
    let serving: Vec<String> = (1..=5).map(|n| line("linen", &format!("{n}.5m"))).collect();
    let short: Vec<String> = (1..=3).map(|n| line("linen", &format!("0.{n}m"))).collect();
    workshop.all(&[
        &format!("buy {} {} {}", serving.join(" "), short.join(" "), others.join(" ")),
        "garment plan top --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none,material=linen'",
    ]);
    workshop
}

/// The best three, and a line for each kind of reason: no piece is left out silently, and all of it fits a screen.
#[test]
fn a_need_is_answered_on_one_screen() {
    let workshop = many();
    let shown = workshop.run("candidates G1").done();
    assert_eq!(
        shown.out,
        "\
shell: 1.00 m at 140 cm (1 to promise)
piece  material   takes    left   cost  known
------------------------------------------------
L1.1   linen     1.05 m  0.45 m  21.00  measured
L2.1   linen     1.05 m  1.45 m  12.60  measured
L3.1   linen     1.05 m  2.45 m   9.00  measured
2 more serve
14 are another material
3 are too short, such as L6.1 linen: 0.10 m free, 1.04 m needed
"
    );
    assert!(
        shown.err.contains("see every piece with --all"),
        "{}",
        shown.err
    );
    let all = workshop.run("candidates G1 --all").done();
    assert!(
        all.out.contains("L5.1") && all.out.contains("it is other 14; the need asks for"),
        "{}",
        all.out
    );
    assert!(!all.err.contains("--all,"), "{}", all.err);
    let sum = workshop.run("candidates G1 --sum").done().out;
    assert!(
        sum.contains("The working for L1.1")
            && sum.contains("1.00 m + 4 cm end allowance = 1.04 m"),
        "{sum}"
    );
    assert!(!shown.out.contains("end allowance"));
}
