//! The shelf says what a lot and the candidates say.

use crate::{
    Workshop,
    books::{environment, run_in},
};
use ellwand::Environment;
use serde_json::Value;

fn free(answer: &Value) -> (String, String) {
    let metres = |key: &str| answer[key]["length_m"].as_str().unwrap().to_owned();
    (metres("free"), metres("longest_free"))
}

/// By hand: 4.00 m with a flaw of 10 cm at 2.50 m have 3.90 m free, 2.50 m of them in one length. Derived: of a
/// promise of 1.00 m in the shorter stretch 2.90 m are left.
#[test]
fn cloth_inside_a_flaw_is_free_nowhere() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "buy --line 'material=cotton,kind=cloth,paid=3m,price=30,full-width=150cm'",
        "lot flaw L1.1 --at 2.50m --length 10cm",
        "garment plan top --need 'role=shell,kind=cloth,length=96cm,width=140cm,preparation=none'",
    ]);
    let everywhere = |expected: (&str, &str)| {
        let shelf = free(&workshop.json("shelf --kind cloth")["pieces"][0]);
        let lot = free(&workshop.json("lot show L1")["pieces"][0]);
        assert_eq!((shelf.0.as_str(), shelf.1.as_str()), expected);
        assert_eq!(lot, shelf);
    };
    everywhere(("3.9", "2.5"));
    let serve = workshop.json("candidates G1")["needs"][0]["serve"].clone();
    let linen = serve
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["piece"] == "L1.1")
        .unwrap()
        .clone();
    assert_eq!(linen["free"]["length_m"], "3.9");
    workshop.all(&["reserve G1 shell --from L1.1"]);
    everywhere(("2.9", "2.5"));
    assert_eq!(
        free(&workshop.json("shelf")["pieces"][1]),
        ("3".to_owned(), "3".to_owned())
    );
    let shown = workshop.run("shelf").done().out;
    assert!(
        shown.contains("2.90 m") && shown.contains("2.50 m"),
        "{shown}"
    );
    workshop.audit();
}

/// 1.2 kg at 200 g/m² and 150 cm are 4.00 m, by weight until somebody measures them.
#[test]
fn a_length_by_weight_is_called_an_estimate_on_the_shelf() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=1.2kg,price=40,full-width=150cm,mass=200gsm'",
        "buy --line 'material=cotton,kind=cloth,paid=3m,price=30,full-width=150cm'",
    ]);
    let estimated = || -> Vec<bool> {
        let shelf = workshop.json("shelf");
        shelf["pieces"]
            .as_array()
            .unwrap()
            .iter()
            .map(|row| row["estimated"].as_bool().unwrap())
            .collect()
    };
    assert_eq!(estimated(), [true, false]);
    assert!(workshop.run("shelf").done().out.contains("raw estimated"));
    workshop.all(&["lot measure L1.1 3.95m"]);
    assert_eq!(estimated(), [false, false]);
    assert!(!workshop.run("shelf").done().out.contains("estimated"));
    workshop.audit();
}

/// By hand: 40 + 12 + 9 + 6 bought, 1 of 4 m of the cloth (10.00) and 3 of 9 buttons (2.00) cut; a customer's own is worth
/// nothing.
#[test]
fn the_shelf_says_what_it_is_worth_by_kind() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm' \
             --line 'material=cupro,kind=lining,paid=2m,price=12,full-width=140cm' \
             --line 'material=silk thread,kind=thread,paid=300m,price=9' \
             --line 'material=horn button,kind=trim,paid=9,price=6' \
             --line 'material=her own,kind=cloth,paid=2m,price=0,full-width=140cm,owner=Ada'",
        "garment plan top --need 'role=shell,kind=cloth,length=96cm,width=140cm,preparation=none' \
             --need 'role=buttons,kind=trim,count=3'",
        "cut G1 shell 1m --from L1.1",
        "cut G1 buttons 3 --from L4.1",
    ]);
    let last = |line: &str, lines: usize| -> Vec<String> {
        let shown = workshop.run(line).done().out;
        let lines = shown.lines().rev().take(lines);
        let words = lines.map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
        words.collect()
    };
    assert_eq!(
        last("shelf", 6)[..5],
        [
            "in all 55.00",
            "all trim 6 4.00",
            "all thread 300.00 m 9.00",
            "all lining 2.00 m 12.00",
            "all cloth 3.00 m 30.00"
        ]
    );
    assert_eq!(workshop.json("shelf")["in_all"], "55");
    let rows = workshop.run("shelf --kind trim").done().out;
    assert!(
        rows.contains("horn button") && rows.contains("4.00"),
        "{rows}"
    );
    let said = workshop.run("shelf").done().err;
    assert!(
        said.contains("Showed 5 pieces, values in EUR; what customers own is not added up."),
        "{said}"
    );
    assert_eq!(last("shelf --kind cloth", 1), ["all cloth 3.00 m 30.00"]);
    // At the end of yesterday nothing was there.
    let yesterday = workshop.run("shelf --on yesterday").done().err;
    assert!(
        yesterday.contains("Nothing of that was on the shelf on 2026-10-11."),
        "{yesterday}"
    );
    let today = workshop.run("shelf --on 2026-10-12").done().out;
    assert!(
        today.starts_with("The shelf at the end of 2026-10-12, without promises\n")
            && today.contains("in all"),
        "{today}"
    );
    // The cut cloth is 10.00, the buttons 2.00: 12.00 are in the garment.
    let value = workshop.run("value --on 2026-10-12").done().out;
    let lines = value
        .lines()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    let lines: Vec<String> = lines.collect();
    for line in [
        "cloth 3.00 m 30.00",
        "on the shelf 55.00",
        "in garments not delivered 12.00",
    ] {
        assert!(lines.iter().any(|shown| shown == line), "{line}: {value}");
    }
    // A part of the shelf is not worth what all of it is.
    let some = workshop.run("shelf --name linen").done().err;
    assert!(some.contains("Showed 1 piece, values in EUR."), "{some}");
    workshop.audit();
}

/// Days as people say and write them; the repeated command holds the day that was meant.
#[test]
fn a_day_may_be_yesterday_or_have_dots() {
    let workshop = Workshop::new();
    let bought = workshop.json(
        "buy --date yesterday --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
    );
    assert_eq!(bought["date"], "2026-10-11");
    let bought = workshop.json(
        "buy --date 9.10.2026 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
    );
    assert_eq!(bought["date"], "2026-10-09");
    workshop
        .run("buy --date 9/10/2026 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'")
        .refused(2, &["9 October or 10 September", "--date-order"]);
}

/// 30 pieces on a terminal of 80 columns and 40 lines: each has its line.
#[test]
fn thirty_pieces_fit_on_a_screen() {
    let folder = tempfile::tempdir().unwrap();
    let narrow = Environment {
        width: Some(80),
        ..environment(folder.path())
    };
    let names = [
        "navy waxed cotton",
        "grey herringbone wool",
        "white poplin",
        "twill lining",
    ];
    let lines: Vec<String> = (0..30)
        .map(|n| {
            let name = names[n % names.len()];
            format!("--line 'material={name},kind=cloth,paid={n}.75m,price=3{n}.50,full-width=150cm,shrinkage=4%/2%,place=A{n}'")
        })
        .collect();
    let bought = [
        &format!("buy {}", lines[1..].join(" ")),
        &format!("buy {}", lines[1]),
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=140cm,preparation=washed'",
        "reserve G1 shell --from L20.1",
    ];
    for line in bought {
        let _ = run_in(&narrow, line).done();
    }
    let shown = run_in(&narrow, "shelf").done();
    let all: Vec<&str> = shown.out.lines().chain(shown.err.lines()).collect();
    let wide = all.iter().map(|line| line.chars().count()).max().unwrap();
    assert!(
        wide <= 80 && all.len() <= 40,
        "{wide} × {}:\n{}",
        all.len(),
        shown.out
    );
}
