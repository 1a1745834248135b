//! Starter files: each is planned or logged as it stands, and changed at the first try. Plans are tried first with `--check`.

use crate::Workshop;
use std::fs;

/// Writes a starter file as it is printed.
fn starter(workshop: &Workshop, folder: &tempfile::TempDir, command: &str, name: &str) -> String {
    let printed = workshop.run(command).done();
    assert!(printed.err.is_empty(), "{}", printed.err);
    let wide = printed.out.lines().filter(|line| line.chars().count() > 80);
    assert_eq!(wide.collect::<Vec<_>>(), Vec::<&str>::new());
    let file = folder.path().join(name);
    fs::write(&file, printed.out).unwrap();
    file.display().to_string()
}

#[test]
fn every_example_is_planned_as_it_stands_and_changed_at_the_first_try() {
    for (name, part, seam) in [
        (
            "shirt",
            "need=collar canvas,name=collar,length=48cm",
            "name=hem,length=1.30m",
        ),
        (
            "coat",
            "need=front canvas,name=front,width=36cm",
            "name=hem,length=1.80m,stitch=301,per-cm=3,thickness=2mm",
        ),
        (
            "apron",
            "need=pocket facing,name=facing,length=24cm,width=6cm",
            "name=hem,length=3m,stitch=301,per-cm=3,thickness=1mm",
        ),
    ] {
        let (workshop, folder) = (Workshop::new(), tempfile::tempdir().unwrap());
        let file = starter(
            &workshop,
            &folder,
            &format!("garment plan --example {name}"),
            "plan.toml",
        );
        let empty = workshop.dump();
        let checked = workshop
            .run(&format!("garment plan --file {file} --check"))
            .done();
        assert!(
            checked.err.contains("Nothing was booked")
                && checked.err.contains("nothing on the shelf serves yet"),
            "{}",
            checked.err
        );
        assert_eq!(workshop.dump(), empty);
        workshop.all(&[&format!("garment plan --file {file}")]);
        assert_eq!(workshop.json("garment show G1")["name"], name);
        let purchase = starter(&workshop, &folder, "buy --example", "purchase.toml");
        workshop.all(&[&format!("buy --file {purchase}")]);
        if name == "apron" {
            workshop.all(&["garment edit G1 --need 'role=pocket facing,kind=interlining,preparation=none,grain=lengthwise' \
                --part 'need=pocket facing,name=facing,length=22cm,width=6cm,cut=with'"]);
        }
        // Length, cloth, lining, part and seam.
        workshop.all(&[
            "garment edit G1 --need 'role=shell,length=2.50m,width=140cm'",
            "garment edit G1 --need 'role=shell,material=white poplin'",
            "garment edit G1 --need 'role=lining,kind=lining,length=1.10m,width=130cm,preparation=none'",
            &format!("garment edit G1 --part '{part}'"),
            &format!("garment edit G1 --seam '{seam}'"),
        ]);
        let shown = workshop.json("garment show G1");
        let shell = &shown["needs"][0];
        assert_eq!(
            shell["amount"].as_str().unwrap().split(" at ").next(),
            Some(if name == "coat" {
                "2.50 m steamed"
            } else {
                "2.50 m washed"
            })
        );
        assert!(
            shell["conditions"]
                .to_string()
                .contains("only white poplin (M1)")
        );
        workshop.all(&["undo --yes", "undo --yes", "undo --yes"]);
        workshop.audit();
    }
}

/// What the plan has beside it is not shown again: a line on the garment, one on the need, one on what was done.
#[test]
fn a_change_shows_what_it_changed() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan top --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none' \
             --need 'role=buttons,kind=trim,count=6' --operation 'name=sewing,kind=hand,planned=5h'",
    ]);
    let changed = workshop
        .run("garment edit G1 --need 'role=Buttons,count=8'")
        .done();
    assert!(
        changed.out.contains("8 pcs")
            && !changed.out.contains("shell")
            && !changed.out.contains("sewing"),
        "{}",
        changed.out
    );
    // Cloth of which nobody has said how it is prepared is spoken of once, where it is planned.
    assert!(!changed.err.contains("preparation"), "{}", changed.err);
    let changed = workshop
        .run("garment edit G1 --need 'role=shell,preparation='")
        .done();
    assert!(
        changed.err.contains("shell: the preparation is not stated")
            && changed.err.contains("preparation=washed"),
        "{}",
        changed.err
    );
    let changed = workshop.run("garment edit G1 --due 2026-12-01").done();
    assert_eq!(changed.out.lines().count(), 1, "{}", changed.out);
}

#[test]
fn the_purchase_is_logged_as_it_stands() {
    let (workshop, folder) = (Workshop::new(), tempfile::tempdir().unwrap());
    let purchase = starter(&workshop, &folder, "buy --example", "purchase.toml");
    let bought = workshop.json(&format!("buy --file {purchase}"));
    // 72.00 + 14.00 + 10.50 + 9.60 + 6.50 of freight = 112.60.
    assert_eq!(bought["home_total"], "112.6");
    workshop.audit();
}

#[test]
fn a_plan_that_is_checked_lists_every_error_and_books_nothing() {
    let workshop = Workshop::new();
    let empty = workshop.dump();
    let line = "garment plan shirt --need 'role=shell,material=silk,length=2m' --need 'role=lining,kind=lining,length=1m,fibre=wull' \
        --operation 'name=sewing,kind=machine,planned=4h,person=Berta'";
    for check in ["", " --check"] {
        workshop.run(&format!("{line}{check}")).refused(
            1,
            &[
                "--need 1: ",
                "\"silk\"",
                "--need 2: \"wull\" is not a fibre",
                "--operation 1: ",
                "Berta",
            ],
        );
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.toml");
    fs::write(&file, "name = \"shirt\"\n\n[[need]]\nrole = \"shell\"\nkind = \"cloth\"\n\n[[need]]\nrole = \"buttons\"\nkind = \"trim\"\ncount = 4\nlength = \"1m\"\n").unwrap();
    let file = file.display();
    workshop
        .run(&format!("garment plan --file {file} --check"))
        .refused(
            1,
            &[
                "plan.toml, line 3: the need shell has no length",
                "plan.toml, line 10: ",
            ],
        );
    assert_eq!(workshop.dump(), empty);
}

#[test]
fn what_differs_comes_from_a_file_too() {
    let (workshop, folder) = (Workshop::new(), tempfile::tempdir().unwrap());
    let plan = starter(
        &workshop,
        &folder,
        "garment plan --example shirt",
        "plan.toml",
    );
    workshop.all(&[&format!("garment plan --file {plan}")]);
    let file = folder.path().join("changes.toml");
    fs::write(&file, "drop_needs = [\"buttons\"]\n\n[[need]]\nrole = \"shell\"\nlength = \"2.40m\"\nwidth = \"\"\n\n[[need]]\nrole = \"collar canvas\"\n\n[[need.part]]\nname = \"stand\"\nlength = \"46cm\"\n\n[[seam]]\nname = \"hem\"\nlength = \"1.30m\"\n").unwrap();
    let changed = workshop.json(&format!("garment edit G1 --file {}", file.display()));
    assert_eq!(changed["needs"][0]["amount"], "2.40 m washed");
    assert_eq!(changed["needs"][1]["parts"][1]["length_m"], "0.46");
    assert_eq!(changed["needs"].as_array().unwrap().len(), 3);
    fs::write(&file, "[[need]]\nrole = \"shell\"\nlength = \"2.40\"\n\n[[seam]]\nname = \"hem\"\nlength = \"1\"\n").unwrap();
    workshop
        .run(&format!("garment copy G1 --file {}", file.display()))
        .refused(
            2,
            &[
                "changes.toml, line 3: length: \"2.40\" needs a unit",
                "changes.toml, line 7: length: \"1\" needs a unit",
            ],
        );
    fs::write(&file, "[[need]]\nrole = \"shel\"\nlength = \"2.40m\"\n").unwrap();
    workshop
        .run(&format!("garment edit G1 --file {}", file.display()))
        .refused(
            1,
            &[
                "changes.toml, line 2: G1 has no need shel",
                "did you mean shell?",
            ],
        );
}
