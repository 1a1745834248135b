//! Bad input: one clear error with what to do, the right exit code, and nothing changes.

use crate::stories::refusals::stocked;

#[test]
fn bad_input_is_refused_with_one_error_and_changes_nothing() {
    let workshop = stocked();
    let line = "buy --line 'material=a,kind=cloth,full-width=150cm";
    let cases: Vec<(String, u8, Vec<&str>)> = vec![
        (
            format!("{line},paid=4,price=10'"),
            2,
            vec!["\"4\" needs a unit", "4m"],
        ),
        (format!("{line},paid=-4m,price=10'"), 2, vec!["-4m"]),
        (format!("{line},paid=0m,price=10'"), 1, vec!["0m"]),
        (
            format!("{line},paid=99999999999km,price=10'"),
            2,
            vec!["99999999999km"],
        ),
        (
            format!("{line},paid=4m,price=10,fibres=wool 60% + silk 30%'"),
            1,
            vec!["90 %"],
        ),
        (
            format!("{line},paid=4m,price=10,shrinkage=100%'"),
            1,
            vec!["100 %"],
        ),
        (
            format!("{line},paid=4m,price=10.005'"),
            1,
            vec!["10.005", "digits"],
        ),
        (
            format!("{line},paid=4m,price=100.5' --currency JPY --rate 0.006"),
            2,
            vec!["100.5", "JPY"],
        ),
        (
            format!("{line},paid=4m,price=1' --currency QQQ --rate 2"),
            2,
            vec!["QQQ"],
        ),
        (
            format!("{line},paid=4m,price=1' --currency USD --rate 0"),
            2,
            vec!["0"],
        ),
        (
            format!("{line},paid=4m,price=1' --date 2027-01-01"),
            1,
            vec!["2027-01-01", "future"],
        ),
        (
            format!("{line},paid=4m,price=1.2345' --currency KWD --rate 3"),
            2,
            vec!["1.2345", "KWD"],
        ),
        (
            "lot place L1.1 'box\u{1b}[2J'".into(),
            1,
            vec!["place holds control characters"],
        ),
        (
            "supplier edit S1 --note 'left\u{202e}right'".into(),
            1,
            vec!["control characters"],
        ),
        ("lot show L99".into(), 1, vec!["there is no lot L99"]),
        (
            "garment show G99".into(),
            1,
            vec!["there is no garment G99"],
        ),
        ("lot show 17".into(), 2, vec!["17"]),
        (
            "cut G1 shell 9m --from L1.1".into(),
            1,
            vec!["L1.1 has 4.00 m", "9.00 m"],
        ),
        (
            "cut G1 shell 1m --from L1.1 --date 2026-10-01".into(),
            1,
            vec!["2026-10-01", "had not come in"],
        ),
        (
            "cut G1 shell 1m --from L1.1 --date 2026-12-24".into(),
            1,
            vec!["future"],
        ),
        (
            "cut G1 sleeve 1m --from L1.1".into(),
            1,
            vec!["no need \"sleeve\"", "shell"],
        ),
        (
            "wash done L1.1 --preparation washed --length 4.50m".into(),
            1,
            vec!["5 %", "--really"],
        ),
        (
            "wash test L1 --preparation washed --length 350mm=450mm".into(),
            1,
            vec!["--really"],
        ),
        (
            format!("{line},paid=4m,price=1,shrinkage=-21%/0%'"),
            1,
            vec!["growth of 21 %", "20 %", "--really"],
        ),
        (
            "material edit M1 --shrinkage=-21%/0%".into(),
            1,
            vec!["--really"],
        ),
        (
            format!("{line},paid=5m,measured=50m,price=1'"),
            1,
            vec!["line 1: 5m was paid for", "--really"],
        ),
        (
            format!("{line},paid=4m,measured=4.5m,pieces=2.1m + 1.9m,price=1'"),
            1,
            vec!["do not add up"],
        ),
        (
            "buy --line 'material=a,kind=cloth,full-width=90m,paid=4m,price=1'".into(),
            1,
            vec!["20 m at most"],
        ),
        (
            "buy --line 'material=a,kind=thread,full-width=1m,paid=4m,price=1'".into(),
            1,
            vec!["thread has no full width"],
        ),
        (
            "buy --line 'material=tape,kind=trim,paid=20m,price=1'".into(),
            1,
            vec!["line 1: \"20m\" is a length", "unit=length"],
        ),
        (
            "buy --rate -1 --currency GBP --line 'material=a,kind=cloth,paid=4m,price=1'".into(),
            2,
            vec!["-1"],
        ),
        ("work G1 sewing 99999h".into(), 1, vec!["half a year"]),
        (
            "wash test L1 --preparation 'washed x3' --length 35cm=34cm=33cm".into(),
            1,
            vec!["which washes"],
        ),
        ("garment deliver G1".into(), 1, vec!["planned"]),
        (
            "workshop overhead --amount 9600 --hours 0h".into(),
            1,
            vec!["hours"],
        ),
        ("workshop set --pooled-method lifo".into(), 2, vec!["lifo"]),
        ("undo B99 --yes".into(), 1, vec!["B99"]),
    ];
    let before = workshop.dump();
    for (command, code, parts) in cases {
        workshop.run(&command).refused(code, &parts);
        assert_eq!(workshop.dump(), before, "changed by: ellwand {command}");
    }
    workshop.audit();
}

#[test]
fn a_file_with_an_error_books_nothing_and_names_the_line() {
    let workshop = stocked();
    let folder = tempfile::TempDir::new().unwrap();
    let file = folder.path().join("bad.toml");
    std::fs::write(&file, "supplier = \"S\"\n\n[[line]]\nmaterial = { kind = \"cloth\", name = \"a\" }\npaid = \"4\"\nprice = \"1\"\n")
        .unwrap();
    let before = workshop.dump();
    workshop
        .run(&format!("buy --file {}", file.display()))
        .refused(2, &["line 5", "\"4\" needs a unit"]);
    let rows = folder.path().join("bad.csv");
    std::fs::write(
        &rows,
        "material,kind,paid,price,full-width\na,cloth,3m,1,150cm\nb,cloth,3,1,150cm\n",
    )
    .unwrap();
    workshop
        .run(&format!("buy --file {}", rows.display()))
        .refused(2, &["line 3", "\"3\" needs a unit"]);
    assert_eq!(workshop.dump(), before);
}

#[test]
fn the_same_request_id_books_once_and_refuses_other_content() {
    let workshop = stocked();
    let id = "0199d000-0000-7000-8000-00000000000a";
    let first = workshop
        .run(&format!("reserve G1 shell --from L1.1 --json --id {id}"))
        .done();
    let again = workshop
        .run(&format!("reserve G1 shell --from L1.1 --json --id {id}"))
        .done();
    assert_eq!(first.out, again.out);
    let before = workshop.dump();
    workshop
        .run(&format!("reserve G2 shell --from L1.1 --id {id}"))
        .refused(1, &["already used with another garment"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}
