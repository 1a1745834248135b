//! Counts of thread in every system, needles, and the topic that explains them.

use crate::Workshop;
use crate::stories::GREY;

/// d-9 (textilecalculations.com, which prints 4002.31 from rounded yards and pounds): 95 g of Ne 50/2 are 4021.7 m.
#[test]
fn a_count_is_reported_in_every_system_with_the_length_on_the_reel() {
    let workshop = Workshop::new();
    let report = workshop.json("thread-count 'Ne 50/2' --mass 95g");
    let reel = &report["thread"]["reel"];
    let metres: f64 = reel["length_m"].as_str().unwrap().parse().unwrap();
    assert_eq!(format!("{metres:.1}"), "4021.7");
    assert_eq!(
        (&reel["certainty"], &reel["net_g"]),
        (&"estimated".into(), &"95".into())
    );
    let counts = report["thread"]["counts"].as_array().unwrap();
    assert_eq!(counts.len(), 10);
    // Ne 50/2 is Ne 25 (a thread maker's bulletin); cotton ticket 75 follows from three cords.
    assert_eq!(
        (&counts[4]["system"], &counts[4]["count"]),
        (&"cotton".into(), &"25".into())
    );
    assert_eq!(
        (&counts[6]["count"], &counts[6]["about"]),
        (&"75".into(), &true.into())
    );
    // d-11, Wikipedia "Units of textile measurement" copy: 550 tex is 901.9 yd/lb.
    assert_eq!(
        workshop.json("thread-count 550tex")["thread"]["yards_per_pound"],
        "901.9"
    );
    // g-4, apparelscience.com: Nm 110 is 1.10 mm; US 18 is printed with it at askvity and ethelandi.
    let needle = workshop.json("thread-count --needle 'Nm 110'")["needle"].clone();
    assert_eq!(
        (&needle["blade_mm"], &needle["us"], &needle["us_is_printed"]),
        (&"1.10".into(), &18.into(), &true.into())
    );
    let shown = workshop
        .run("thread-count 'metric ticket 120' --mass 45g --tare 12g --needle 75")
        .done()
        .out;
    insta::assert_snapshot!("thread_count", shown);
}

#[test]
fn a_count_that_could_be_another_thread_and_a_reel_that_cannot_be_are_refused() {
    let workshop = Workshop::new();
    for (line, says) in [
        ("'ticket 120'", "without metric or cotton"),
        (
            "'metric ticket 120 cotton ticket 70'",
            "metric and cotton tickets are different threads",
        ),
        ("0tex", "must be more than zero"),
        ("'30/2 tex'", "for example 2x30tex"),
        ("30tex --mass 0g", "weighs something"),
        (
            "30tex --mass 11g --tare 12g",
            "11 g in all is less than the empty reel, 12 g",
        ),
        ("--needle 'US 13'", "the size of a machine needle"),
        ("", "missing: "),
        ("--mass 45g", "missing: "),
    ] {
        workshop
            .run(&format!("thread-count {line}"))
            .refused(2, &[says]);
    }
    let empty = workshop
        .run("thread-count 30tex --mass 12g --tare 12g")
        .done()
        .out;
    assert!(empty.contains("the reel is empty"), "{empty}");
    workshop
        .run(&format!(
            "buy --line '{},paid=1m,price=1'",
            GREY.replace("30tex", "ticket 120")
        ))
        .refused(2, &["without metric or cotton"]);
}

/// What spans the commands is reported in one place; every command that it names is one.
#[test]
fn the_topic_of_thread_is_reported() {
    let workshop = Workshop::new();
    let topics = workshop.run("help").done();
    assert!(topics.out.contains("thread") && topics.err.contains("ellwand --help"));
    let report = workshop.run("help thread").done().out;
    for part in [
        "several reels at once",
        "2x150den",
        "lot weigh L5.2 --gross 45g --tare 12g",
        "reels=4",
    ] {
        assert!(
            report.to_lowercase().contains(&part.to_lowercase()),
            "{part}: {report}"
        );
    }
    // The topic's own figure: a cotton ticket 120 is 14.764 tex (1 771.6 / 120, onlineclothingstudy.com 2013).
    assert!(report.contains("14.764 tex"));
    assert_eq!(
        workshop.json("thread-count 'cotton ticket 120'")["thread"]["tex"],
        "14.764"
    );
    let weigh = workshop.run("help lot weigh").done().out;
    assert!(weigh.contains("--gross"), "{weigh}");
    workshop
        .run("help knitting")
        .refused(2, &["neither a topic nor a command", "thread"]);
}
