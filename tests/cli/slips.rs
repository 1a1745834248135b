//! Slips of the hand: each is answered in three lines at most, with what to type, and all of them at once.

use crate::{Workshop, stories::undo::stocked};

/// Typed, and what the answer holds. Invented slips: wrong keys, units, orders, words, codes and days.
const SLIPS: &[(&str, &str)] = &[
    (
        "garment plan shirt --need 'rol=shell,kind=cloth'",
        "did you mean role?",
    ),
    (
        "garment plan shirt --need 'role=shell,kind=clot'",
        "did you mean cloth?",
    ),
    (
        "garment plan shirt --need 'role=shell'",
        "has no kind: cloth",
    ),
    (
        "garment plan shirt --need 'role=shell,kind=cloth,length=65'",
        "for example 65cm",
    ),
    (
        "garment plan shirt --need 'role=shell,kind=cloth,length=65cm,widht=1m'",
        "did you mean width?",
    ),
    (
        "garment plan shirt --need shell",
        "is not key=value, such as role=",
    ),
    (
        "garment plan shirt --need 'role=shell,role=body,kind=cloth'",
        "role is given twice",
    ),
    (
        "garment plan shirt --need 'role=,kind=cloth'",
        "role has no value",
    ),
    (
        "garment plan shirt --operation 'name=sewing,kind=hands,planned=5h'",
        "did you mean hand?",
    ),
    (
        "garment plan shirt --operation 'name=sewing,kind=hand,planned=5'",
        "for example 5h",
    ),
    (
        "garment plan shirt --due 30.13.2026",
        "for example 2026-10-03",
    ),
    ("garment plan shirt --cuont 3", "did you mean --count?"),
    ("garment plan shirt --count three", "is not a whole number"),
    ("garment plan", "a plan needs a name or a file"),
    ("garment shwo G1", "did you mean show?"),
    ("garmnet show G1", "did you mean garment?"),
    ("garment show 1", "for example G5"),
    ("garment show", "missing: <GARMENT>"),
    ("garment show G9", "there is no garment G9"),
    (
        "buy --line 'material=silk,kind=cloth,paid=3m,pirce=20'",
        "did you mean price?",
    ),
    (
        "buy --line 'material=silk,kind=cloth,paid=3m,price=20,width=140cm'",
        "did you mean full-width?",
    ),
    (
        "buy --line 'material=silk,kind=cloth,paid=3,price=20,full-width=140cm'",
        "for example 3m",
    ),
    (
        "buy --line 'material=silk,kind=cloth,paid=3m,price=abc,full-width=140cm'",
        "abc",
    ),
    (
        "buy --line 'material=silk,paid=3m,price=20,full-width=140cm'",
        "is new and needs a kind",
    ),
    (
        "buy --line 'material=silk,kind=cloth,paid=3m,price=20'",
        "full width",
    ),
    ("buy --charge freigth=12", "did you mean freight?"),
    ("reserve G1 shell", "missing: --from"),
    ("reserve G1 shell --form L1.1", "did you mean --from?"),
    ("reserve G1 shel --from L1.1", "shell"),
    ("reserve G1 shell --from 1", "for example L17.2"),
    ("cut G1", "--all for all that is promised"),
    ("cut shell G1", "for example G5"),
    ("cut G1 shell --end uter --from L1.1", "did you mean outer?"),
    ("cut G1 shell 1,5 --from L1.1", "1,5"),
    ("wash done L1.1", "L1.1=3.80m"),
    ("wash done L1.1=3.8", "for example 3.8m"),
    ("work G1 sewing 2.5", "for example 2.5h"),
    ("work G1 sweing 2h", "sewing"),
    ("workshop pay-rate owner abc", "for example 24.00"),
    ("workshop pay-rate owner", "missing: <PER_HOUR|--forget>"),
    ("workshop set --currency euro", "euro"),
    ("workshop set --zone Wien", "Europe/Vienna"),
    ("quote make G1 --margin 120%", "100 %"),
    ("shelf --kind clth", "did you mean cloth?"),
    // A word that is too far from all others gets none of them.
    (
        "work G1 sewing 2h --minutes 3",
        "--minutes is not known here\n",
    ),
    ("garment plan shirt --work 3h", "--work is not known here\n"),
    ("buy --from Stall", "did you mean --supplier?"),
    (
        "buy --line 'material=silk,kind=cloth,paid=3m,amount=20'",
        "did you mean price?",
    ),
    ("undoo B1", "did you mean undo?"),
    // Codes of another kind: what they are, and what shows them.
    ("cost Q1", "ellwand quote show Q1 shows it"),
    (
        "quote show G3",
        "is the code of a garment, not of a quotation",
    ),
    ("lot show P2", "ellwand buy show P2 shows it"),
    ("release L1.1", "ellwand lot show L1 shows it"),
    ("history G1", "write --garment G1; ellwand garment show G1"),
    // What excludes each other, is missing, or is too much; the codes that were typed stand in the example.
    (
        "quote make G1 --margin 20% --markup 20%",
        "hint: leave out --margin, or --markup",
    ),
    ("reserve G1 shell --all", "NEED cannot be used with --all"),
    ("buy --rate 1.1 --rate 1.2", "--rate is given twice"),
    ("cost G1 G2", "\"G2\" is one word too many here"),
    ("reserve G1 shell", "ellwand reserve G1 shell --from"),
    ("lot weigh L2.1", "hint: for example ellwand lot weigh L2.1"),
    ("shelf --kind", "--kind <KIND> needs a value"),
    // Part of a name.
    (
        "garment plan top --need 'role=shell,kind=cloth,length=1m,material=wool'",
        "there is no material \"wool\"",
    ),
];

#[test]
fn each_slip_is_answered_in_three_lines_with_what_to_type() {
    let workshop = stocked();
    let before = workshop.dump();
    let mut long = Vec::new();
    for (line, holds) in SLIPS {
        let ran = workshop.run(line);
        assert!(ran.code != 0, "{line}: {}{}", ran.out, ran.err);
        if ran.err.lines().count() > 3 || !ran.err.contains(holds) || !ran.out.is_empty() {
            long.push(format!("$ {line}\n{}{}[wanted: {holds}]", ran.out, ran.err));
        }
    }
    assert!(long.is_empty(), "{}", long.join("\n"));
    assert_eq!(workshop.dump(), before, "nothing was booked");
}

#[test]
fn all_slips_of_a_command_are_answered_at_once() {
    let workshop = Workshop::new();
    let ran = workshop.run(
        "garment plan shirt --due 30.13.2026 --need 'rol=shell,kind=cloth,lenght=60cm,width=140' \
             --need 'role=lining,kind=linning,length=1m' --operation 'name=sewing,kind=hand,planned=5'",
    );
    assert_eq!(
        ran.err,
        "\
error: --due: \"30.13.2026\" is not a date, for example 2026-10-03 or 3.10.2026
       --need 1: \"rol\" is not a key here; did you mean role?
       --need 1: \"lenght\" is not a key here; did you mean length?
       --need 1: width: \"140\" needs a unit, for example 140cm
       --need 2: kind: \"linning\" is not a kind of material; did you mean lining?
       --operation: planned: \"5\" needs a unit, for example 5h
hint: ellwand garment plan --help explains --due
"
    );
    assert_eq!(ran.code, 2);
}

/// A program that asks for JSON gets its faults as JSON, too.
#[test]
fn slips_are_a_problem_in_json() {
    let workshop = Workshop::new();
    let ran = workshop.run("garment plan shirt --json --need 'rol=shell,kind=cloth'");
    let problem: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
    assert_eq!(
        problem["detail"],
        "--need: \"rol\" is not a key here; did you mean role?"
    );
    assert_eq!(
        problem["hint"],
        "ellwand garment plan --help lists the keys of --need"
    );
}

/// A file is read again without each line that is at fault; what it had to say is not missing.
#[test]
fn all_slips_of_a_file_are_answered_at_once() {
    let workshop = Workshop::new();
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("plan.toml");
    std::fs::write(
        &plan,
        "name = \"shirt\"\n[[need]]\nrole = \"shell\"\nkind = \"clth\"\nlenght = \"2m\"\n[[need]]\nrole = \"lining\"\n\
         kind = \"lining\"\nlength = \"65\"\n",
    )
    .unwrap();
    let ran = workshop.run(&format!("garment plan --file {}", plan.display()));
    for part in [
        "line 4: ",
        "line 5: unknown field lenght; did you mean length?",
        "line 9: length: \"65\" needs a unit, for example 65cm",
        "nothing was planned",
    ] {
        assert!(ran.err.contains(part), "{part}: {}", ran.err);
    }
}

/// A cut of what is cut already is a slip or a re-cut: it is asked about, and the plan stays.
#[test]
fn what_is_cut_already_is_not_cut_again_without_a_word() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan top --need 'role=shell,kind=cloth,length=96cm,width=140cm,preparation=none'",
        "reserve G1 --all --yes",
        "cut G1 --all --yes",
    ]);
    let planned = workshop.json("cost G1")["lines"][0]["planned"].clone();
    workshop
        .run("cut G1 shell 1m --from L1.1")
        .refused(1, &["all of the shell is already cut", "--really"]);
    workshop.all(&["cut G1 shell 1m --from L1.1 --really"]);
    assert_eq!(workshop.json("cost G1")["lines"][0]["planned"], planned);
    workshop.audit();
}

/// Finished with nothing cut it would cost nothing; that is asked about before it is believed.
#[test]
fn a_garment_that_was_not_made_is_not_finished_without_a_word() {
    let workshop = stocked();
    let before = workshop.dump();
    workshop.run("garment finish G1").refused(
        1,
        &[
            "nothing of it is cut, and no hours are logged on it",
            "--really",
        ],
    );
    assert_eq!(workshop.dump(), before);
    workshop.all(&["cut G1 shell 1.50m --from L1.1"]);
    workshop
        .run("garment finish G1")
        .refused(1, &["G1 is planned, but no hours are logged on it"]);
    workshop.all(&["work G1 sewing 3h", "garment finish G1"]);
    workshop.audit();
}
