//! A second month as one script: a fresh book, the example plan and five changes, a price on the telephone, a commission from
//! accepting to the last payment, thirty pieces on the shelf, forty mistakes. Commands, keys and lines are counted.

mod mistakes;

use crate::books::{Ran, environment, run_in};
use chrono::{TimeZone, Utc};
use ellwand::Environment;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

/// The terminal.
const WIDTH: usize = 80;
const HEIGHT: usize = 40;

/// A maker at a terminal of 80 columns, with a book of their own.
struct Maker {
    folder: TempDir,
    environment: Environment,
}

/// What a step took.
#[derive(Debug, Default, PartialEq, Eq)]
struct Effort {
    commands: usize,
    keys: usize,
    lines: usize,
}

impl Maker {
    fn new() -> Self {
        let folder = TempDir::new().unwrap();
        let now = Utc.with_ymd_and_hms(2026, 11, 2, 9, 0, 0).unwrap();
        let environment = Environment {
            now: Some(Ok(now)),
            width: Some(80),
            ..environment(folder.path())
        };
        Self {
            folder,
            environment,
        }
    }

    fn run(&self, line: &str) -> Ran {
        let path = format!("{}/", self.folder.path().display());
        run_in(&self.environment, &line.replace("./", &path))
    }

    /// Types commands that all succeed at the first try, and says what they took.
    #[track_caller]
    fn step(&self, name: &str, commands: &[&str]) -> Effort {
        let mut effort = Effort::default();
        for line in commands {
            let (line, file) = line.split_once(" > ").unwrap_or((line, ""));
            let ran = self.run(line).done();
            if !file.is_empty() {
                fs::write(self.folder.path().join(file), &ran.out).unwrap();
            }
            let shown = if file.is_empty() {
                ran.out
            } else {
                String::new()
            };
            effort.commands += 1;
            // With the program's name, a space and Enter.
            effort.keys += line.chars().count() + "ellwand ".len() + 1;
            effort.lines += lines(&shown) + lines(&ran.err);
        }
        let Effort {
            commands,
            keys,
            lines,
        } = effort;
        println!("{name}: {commands} commands, {keys} keys, {lines} lines");
        effort
    }

    #[track_caller]
    fn json(&self, line: &str) -> Value {
        serde_json::from_str(&self.run(&format!("{line} --json")).done().out).unwrap()
    }
}

/// Lines that a text takes on the terminal.
fn lines(text: &str) -> usize {
    text.lines()
        .map(|line| line.chars().count().div_ceil(WIDTH).max(1))
        .sum()
}

/// A need of a garment.
fn need<'a>(garment: &'a Value, role: &str) -> &'a Value {
    let needs = garment["needs"].as_array().unwrap();
    needs.iter().find(|need| need["role"] == role).unwrap()
}

/// The example plan as it stands, then a longer shirt, another cloth, a lining, a larger collar, a longer hem: each a command.
fn plan_and_change(maker: &Maker) {
    let planned = maker.step(
        "plan",
        &[
            "garment plan --example shirt > plan.toml",
            "garment plan --file ./plan.toml --for Ada",
        ],
    );
    assert_eq!(planned.commands, 2);
    let before = maker.json("garment show G1");
    let changed = maker.step(
        "five changes",
        &[
            "garment edit G1 --need 'role=shell,length=2.25m'",
            "garment edit G1 --need 'role=shell,material=blue linen'",
            "garment edit G1 --need 'role=lining,kind=lining,length=60cm,width=130cm,preparation=none'",
            "garment edit G1 --part 'need=collar canvas,name=collar,length=48cm'",
            "garment edit G1 --seam 'name=hem,length=1.30m'",
        ],
    );
    assert_eq!(changed.commands, 5);
    let after = maker.json("garment show G1");
    let shell = need(&after, "shell");
    assert_eq!(shell["length_m"], "2.25", "{shell}");
    assert_eq!(need(&after, "lining")["kind"], "lining");
    // Of everything else the plan keeps what it said; canvas and thread follow from the collar and the hem.
    assert_eq!(need(&before, "buttons"), need(&after, "buttons"));
    assert_ne!(
        need(&before, "collar canvas"),
        need(&after, "collar canvas")
    );
    assert_ne!(need(&before, "thread"), need(&after, "thread"));
}

#[test]
fn a_month_takes_few_commands_and_few_lines() {
    let maker = Maker::new();
    let start = maker.step(
        "start",
        &[
            "workshop set --currency EUR --zone Europe/Vienna",
            "workshop pay-rate owner 24.00",
            "workshop price-rule --margin 35% --round-up 5 --stage 'deposit=40% of gross' --stage balance",
        ],
    );
    let bought = maker.step(
        "purchases",
        &[
            "buy --example > purchase.toml",
            "buy --file ./purchase.toml",
            "buy --supplier 'Linen Mill' --line 'material=blue linen,kind=cloth,paid=5m,price=95.00,full-width=150cm,selvedges=2cm,shrinkage=5%/2%' \
             --line 'material=cupro lining,kind=lining,paid=4m,price=38.00,full-width=140cm'",
        ],
    );
    plan_and_change(&maker);
    let suits = maker.step(
        "what suits",
        &[
            "candidates G1",
            "garment edit G1 --need 'role=thread,colour=white'",
        ],
    );
    // Two cloths on the telephone, one of them not bought yet: what is in the plan, and the other.
    let price = maker.step(
        "price on the telephone",
        &["quote make G1 --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%'"],
    );
    assert_eq!(price.commands, 1);
    assert!(price.lines <= 8, "{price:?}");
    mistakes::each_is_answered(&maker);
    let agreed = maker.step(
        "agree",
        &["quote accept Q1 --option 'as planned' --reserve --yes"],
    );
    let stages = maker.json("quote show Q1")["standing"]["stages"].clone();
    let amount = |at: usize| stages[at]["amount"].as_str().unwrap().to_owned();
    let made = maker.step(
        "deposit to payment",
        &[
            &format!("quote pay Q1 {}", amount(0)),
            "wash done L5.1=4.75m L2.1=1.94m --preparation washed",
            "cut G1 --all --yes",
            "work G1 sewing 5h45",
            "garment deliver G1 --finish",
            &format!("quote pay Q1 {}", amount(1)),
        ],
    );
    assert!(made.commands <= 6, "{made:?}");
    let closed = maker.step("what it came to", &["quote outcome Q1", "month"]);
    for step in [start, bought, suits, agreed, closed] {
        assert!(step.commands <= 5, "{step:?}");
    }
    assert_eq!(maker.json("garment show G1")["state"], "delivered");
    let left = maker.json("quote show Q1")["standing"]["left"].clone();
    assert_eq!(left.as_str().unwrap().parse::<f64>().unwrap(), 0.0);
    let _ = maker.run("audit").done();
}

/// Finishing and delivering by one command are two bookings, and undo takes back both.
#[test]
fn what_was_finished_and_delivered_at_once_is_taken_back_at_once() {
    let maker = Maker::new();
    let _ = maker.step(
        "a bag",
        &[
            "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
            "garment plan bag --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none' --operation 'name=sewing,kind=hand,planned=2h'",
        ],
    );
    maker.run("garment deliver G1").refused(
        1,
        &[
            "only a finished garment",
            "ellwand garment deliver G1 --finish",
        ],
    );
    maker
        .run("garment deliver G1 --finish")
        .refused(1, &["nothing of it is cut", "--really"]);
    assert_eq!(maker.json("garment show G1")["state"], "planned");
    let _ = maker.step(
        "make",
        &[
            "reserve G1 base --from L1.1",
            "cut G1 base",
            "work G1 sewing 2h",
            "quote make G1 --price 50",
            "quote accept Q1 --version 1",
        ],
    );
    let delivered = maker.json("garment deliver G1 --finish");
    let notes = delivered["notes"].as_array().unwrap();
    let due = |note: &&serde_json::Value| note.to_string().contains("still to be paid");
    assert_eq!(notes.iter().filter(due).count(), 1, "{delivered}");
    let history = maker.run("history --json").done().out;
    assert!(
        history.contains("Finished G1 bag") && history.contains("Delivered G1 bag"),
        "{history}"
    );
    let _ = maker.step("undo", &["undo --yes"]);
    assert_eq!(maker.json("garment show G1")["state"], "cut-into");
    let _ = maker.step("again", &["garment deliver G1 --finish"]);
    maker
        .run("garment deliver G1 --finish")
        .refused(1, &["is delivered"]);
}

#[test]
fn a_shelf_of_thirty_pieces_is_one_screen() {
    let maker = Maker::new();
    let row = |number: usize| {
        let place = char::from(b'A' + u8::try_from(number % 6).unwrap());
        format!(
            "wool twill number {number},cloth,{}m,{}.00,150cm,{place}{number}\n",
            number % 7 + 1,
            20 + number
        )
    };
    let rows: String = (1..=30).map(row).collect();
    fs::write(
        maker.folder.path().join("shelf.csv"),
        format!("material,kind,paid,price,full-width,place\n{rows}"),
    )
    .unwrap();
    let opened = maker.step("thirty cloths", &["buy --opening --file ./shelf.csv"]);
    assert_eq!(opened.commands, 1);
    let shelf = maker.step("shelf", &["shelf"]);
    let out = maker.run("shelf").done().out;
    let wide: Vec<&str> = out
        .lines()
        .filter(|line| line.chars().count() > WIDTH)
        .collect();
    assert_eq!(wide, Vec::<&str>::new());
    assert!(shelf.lines <= HEIGHT, "{shelf:?}\n{out}");
    assert_eq!(out.matches("wool twill number").count(), 30);
}
