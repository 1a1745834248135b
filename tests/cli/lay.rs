//! `ellwand lay`: where each part lies, and the picture of it.

use crate::Workshop;
use std::fs;

/// Back 72 × 52, fronts 72 × 30, sleeves 62 × 42, collars 46 × 12 cm: 1.34 m on 134 cm, worked out by hand beside
/// `the_parts_of_a_jacket_lie_among_one_another`. Their area is 3744 + 4320 + 5208 + 1104 = 14 376 cm²: of 134 × 134 cm
/// it is 80.06 %.
fn jacket() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,full-width=137cm,selvedges=3cm,paid=5m,price=100,preparation=steamed'",
        "garment plan 'work jacket' --need 'role=shell,kind=cloth,preparation=none,grain=lengthwise' \
         --part 'need=shell,name=back,length=72cm,width=52cm' --part 'need=shell,name=front,count=2,length=72cm,width=30cm' \
         --part 'need=shell,name=<sleeve> & cuff,count=2,length=62cm,width=42cm' \
         --part 'need=shell,name=collar,count=2,length=46cm,width=12cm'",
    ]);
    workshop
}

#[test]
fn a_lay_is_listed_and_drawn() {
    let (workshop, folder) = (jacket(), tempfile::tempdir().unwrap());
    let before = workshop.dump();
    let shown = workshop.run("lay G1 --from L1.1").done();
    let heading = "G1 work jacket, shell on L1.1: 1.34 m at 134 cm, 80.0 % used, in a lay";
    assert!(shown.out.starts_with(heading), "{}", shown.out);
    assert!(
        shown.out.lines().all(|line| line.chars().count() <= 80),
        "{}",
        shown.out
    );
    assert!(
        shown.err.contains("ellwand lay G1 --svg lay.svg"),
        "{}",
        shown.err
    );
    let json = workshop.run("lay G1 --from L1.1 --json").done();
    assert_eq!(json.err, "", "nothing else is said");
    let path = folder.path().join("lay.svg");
    let draw = format!("lay G1 shell --from L1.1 --svg '{}'", path.display());
    let drawn = workshop.run(&format!("{draw} --yes")).done();
    assert!(drawn.err.contains("Drew the lay to"), "{}", drawn.err);
    let svg = fs::read_to_string(&path).unwrap();
    let tree = usvg::Tree::from_str(&svg, &usvg::Options::default()).unwrap();
    assert!(tree.size().height() > tree.size().width());
    assert_eq!(svg.matches("<polygon").count(), 7, "a part each");
    assert!(
        svg.contains("&lt;sleeve&gt; &amp; cuff, 2 of 2, 62 cm × 42 cm"),
        "{svg}"
    );
    // What is there is not written over unasked.
    workshop
        .run(&draw)
        .refused(2, &["is there already", "--yes"]);
    assert_eq!(workshop.dump(), before, "nothing is booked");
}

#[test]
fn what_cannot_be_laid_is_said() {
    let workshop = jacket();
    for (line, words) in [
        (
            "lay G1 --width 40cm",
            &["the back of the shell takes 52 cm", "the cloth has 40 cm"][..],
        ),
        ("lay G1 --width 142cm --from L1.1", &["--from", "--width"]),
        ("lay G1 lining", &["G1 has no need \"lining\""]),
        ("lay G9", &["there is no garment G9"]),
    ] {
        let refused = workshop.run(line);
        assert_ne!(refused.code, 0, "{line}");
        for part in words {
            assert!(refused.err.contains(part), "{line}: {}", refused.err);
        }
    }
    workshop.all(&[
        "garment plan bag --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none'",
    ]);
    workshop.run("lay G2").refused(
        1,
        &[
            "no need of G2 is planned by its parts",
            "ellwand garment edit G2 --part 'need=base,",
        ],
    );
    workshop
        .run("lay G2 base")
        .refused(1, &["the base of G2 is planned without its parts"]);
}

/// The jacket takes 112 cm of 134: kept at 134 cm it serves from 112 cm on, and 2 % less than 134 cm (131.32 cm) changes nothing.
#[test]
fn a_lay_is_kept_shown_and_promised_by() {
    let workshop = jacket();
    let kept = workshop
        .run("lay G1 --from L1.1 --keep --note 'nap up'")
        .done();
    assert!(
        kept.err.contains("Kept it as Y1 (B3): 1.34 m at 112 cm."),
        "{}",
        kept.err
    );
    let shown = workshop.run("lay Y1").done();
    let heading = "G1 work jacket, shell: 1.34 m at 112 cm, 95.7 % used, in the kept lay Y1";
    assert!(shown.out.starts_with(heading), "{}", shown.out);
    assert!(
        format!("{}{}", shown.out, shown.err).contains("nap up"),
        "{shown:?}"
    );
    let garment = workshop.run("garment show G1").done();
    assert!(garment.out.contains("kept lay Y1"), "{}", garment.out);
    let found = workshop.run("candidates G1").done();
    assert!(found.out.contains("at 112 cm by Y1"), "{}", found.out);
    let reserved = workshop.run("reserve G1 shell --from L1.1").done();
    assert!(reserved.out.contains("active, by Y1"), "{reserved:?}");
    let cost = workshop.run("cost G1").done();
    assert!(cost.out.contains("L1 wool, by Y1"), "{}", cost.out);
    let json = workshop.json("garment promises G1");
    assert_eq!(json["reservations"][0]["lay"], "Y1");
    workshop
        .run("undo B3 --yes")
        .refused(1, &["R1 was promised by the lay Y1", "ellwand release R1"]);
    workshop
        .run("lay Y1 shell")
        .refused(1, &["Y1 is kept already", "ellwand lay Y1"]);
    workshop
        .run("lay Y1 --width 1m")
        .refused(1, &["Y1 is for cloth of 112 cm or more"]);
    workshop.run("lay Y2").refused(1, &["there is no lay Y2"]);
    workshop.run("lay X2").refused(2, &["X2"]);
}

/// Of the picture: the same book gives the same one, in the reader's units.
#[test]
fn the_picture_of_a_lay() {
    let (workshop, folder) = (jacket(), tempfile::tempdir().unwrap());
    let path = folder.path().join("lay.svg");
    let draw = format!(
        "lay G1 --width 60in --units imperial --yes --svg '{}'",
        path.display()
    );
    let _ = workshop.run(&draw).done();
    insta::assert_snapshot!("lay_picture", fs::read_to_string(&path).unwrap());
}
