//! `ellwand seam`: the thread of one seam, with and without a book.

use crate::books::{Workshop, environment, run_in};
use serde_json::{Value, json};

#[test]
fn a_seam_is_worked_out_without_a_garment() {
    let workshop = Workshop::new();
    // e-5 of the reference, melgeecrafts.com.
    let lockstitch = workshop.json("seam 'length=220cm,stitch=301'");
    assert_eq!(
        (&lockstitch["garment"], &lockstitch["seams"][0]["needle_m"]),
        (&Value::Null, &"2.75".into())
    );
    // e-6, scribd 75439238: 6.63 yd.
    let measured = "seam 'length=1.17yd,stitch=401,sample=3in,sample-needle=9in,sample-under=8in'";
    let seam = &workshop.json(measured)["seams"][0];
    assert_eq!(
        (&seam["total_m"], &seam["certainty"]),
        (&"6.062472".into(), &"measured".into())
    );
    let shown = workshop.joined_output(measured);
    assert!(shown.contains("thread unpicked from a sample"), "{shown}");
    let overedge =
        workshop.joined_output("seam 'stitch=504,length=1m,per-cm=4,thickness=0.8mm,width=5mm'");
    assert!(
        overedge.contains("sources disagree on 504") && overedge.contains("a rule of thumb"),
        "{overedge}"
    );
    let button = workshop
        .run("seam 'stitch=button,count=7,each=0.35m'")
        .done()
        .out;
    assert!(
        button.contains("7 × 0.35 m = 2.45 m") && button.contains("stated"),
        "{button}"
    );
    workshop
        .run("seam 'stitch=301'")
        .refused(1, &["the seam has no length"]);
    workshop
        .run("seam 'length=1m'")
        .refused(2, &["stitch is missing"]);
    assert_eq!(workshop.json("history")["bookings"], json!([]));
}

/// Arithmetic alone: 2.20 m at 2.5 metres of thread in a metre (the ratio of a lockstitch, textiles.md) are 5.50 m, and no book is
/// there before or after.
#[test]
fn a_seam_needs_no_book() {
    let folder = tempfile::TempDir::new().unwrap();
    let nobody = std::net::TcpListener::bind("127.0.0.1:0")
        .unwrap()
        .local_addr()
        .unwrap();
    let missing = folder.path().join("missing.sqlite3");
    for named in [
        "".to_owned(),
        format!("--database {}", missing.display()),
        format!("--server http://{nobody}"),
    ] {
        let line = format!("seam 'length=220cm,stitch=301' {named}");
        let ran = run_in(&environment(folder.path()), &format!("{line} --json")).done();
        let answer: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
        assert_eq!(answer["seams"][0]["total_m"], "5.5", "{line}");
        let shown = run_in(
            &environment(folder.path()),
            &format!("{line} --units imperial"),
        )
        .done();
        assert!(shown.out.contains("yd"), "{}", shown.out);
        run_in(
            &environment(folder.path()),
            &format!("seam 'stitch=301' {named}"),
        )
        .refused(1, &["the seam has no length"]);
    }
    assert!(
        !missing.exists() && !folder.path().join("data").exists(),
        "no book was made"
    );
}

/// Where there is a book, lengths are shown as it likes them.
#[test]
fn a_seam_is_shown_in_the_units_of_the_book() {
    let workshop = Workshop::new();
    workshop.all(&["workshop set --units imperial"]);
    assert!(
        workshop
            .run("seam 'length=220cm,stitch=301'")
            .done()
            .out
            .contains("yd")
    );
}
