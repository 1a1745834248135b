//! Costs of cost layers against an independent general-purpose bookkeeping library, `beancount` 3.2.3 of the Python Package
//! Index, which `.ci/run` fetches. `LAYER_ORACLE_PYTHON` names a Python that has it; without one the test is ignored.

use ellwand_domain::{
    layer::{Layer, Method, Taken, draw_down, receive, take, take_own_first},
    quantity::Millionths,
};
use proptest::{prelude::*, strategy::ValueTree, test_runner::TestRunner};
use std::{
    fmt::Write as _,
    io::Write as _,
    process::{Command, Stdio},
};

/// Histories at random beside the textbook's.
const HISTORIES: usize = 300;
/// A cost with 20 decimals, as the library answers; compared in these units.
const PER_MILLIONTH: i128 = 100_000_000_000_000;

#[derive(Debug, Clone)]
enum Act {
    Receive(i64, i64),
    Take(i64),
    FromLot(usize, i64),
}

/// A history: its method, and what was asked of the library for it.
struct History {
    layers: Vec<Layer>,
    method: Method,
    asked: String,
    costs: Vec<i64>,
}

impl History {
    fn new(method: Method) -> Self {
        let word = if method == Method::Fifo {
            "fifo"
        } else {
            "average"
        };
        Self {
            layers: Vec::new(),
            method,
            asked: format!("history {word}\n"),
            costs: Vec::new(),
        }
    }

    /// Does an act, and asks for the same; what the domain refuses (more than there is) is asked of neither.
    fn act(&mut self, act: &Act) {
        match *act {
            Act::Receive(quantity, value) => {
                let id = i64::try_from(self.layers.len()).unwrap() + 1;
                let receipt = Layer {
                    id,
                    sequence: id,
                    quantity,
                    value: Millionths::new(value).unwrap(),
                };
                self.layers = receive(&self.layers, self.method, receipt).unwrap();
                let (whole, part) = (value / 1_000_000, value % 1_000_000);
                writeln!(self.asked, "in {quantity} {whole}.{part:06}").unwrap();
            }
            Act::Take(quantity) => {
                if let Ok(taken) = take(&self.layers, self.method, quantity) {
                    self.costs
                        .push(taken.iter().map(|taken| taken.value.get()).sum());
                    self.layers = draw_down(&self.layers, &taken).unwrap();
                    writeln!(self.asked, "out {quantity}").unwrap();
                }
            }
            Act::FromLot(lot, quantity)
                if self.method == Method::Fifo && !self.layers.is_empty() =>
            {
                let id = i64::try_from(lot % self.layers.len()).unwrap() + 1;
                if let Ok(taken) = take_own_first(&self.layers, self.method, Some(id), quantity) {
                    self.layers = draw_down(&self.layers, &taken).unwrap();
                    // What the lot itself gives, then what it lacked.
                    let (own, rest): (Vec<Taken>, Vec<Taken>) =
                        taken.into_iter().partition(|part| part.layer == id);
                    for (from, parts) in [(format!("out-of {id}"), own), ("out".to_owned(), rest)] {
                        let quantity: i64 = parts.iter().map(|part| part.quantity).sum();
                        if quantity > 0 {
                            self.costs
                                .push(parts.iter().map(|part| part.value.get()).sum());
                            writeln!(self.asked, "{from} {quantity}").unwrap();
                        }
                    }
                }
            }
            Act::FromLot(..) => {}
        }
    }

    /// Compares with the library's answers, which are not rounded. A taking is rounded once for each layer that it touches, so
    /// that after n of them a figure is at most n millionths off.
    fn compare<'a>(&self, answers: &mut impl Iterator<Item = &'a str>) {
        let mut roundings = 0;
        let off = |ours: i64, text: &str, roundings: i128| {
            let theirs = decimals(text);
            let apart = (i128::from(ours) * PER_MILLIONTH - theirs).abs();
            assert!(
                apart <= roundings * PER_MILLIONTH,
                "{ours} millionths is not {text}\n{}",
                self.asked
            );
        };
        for cost in &self.costs {
            roundings += i128::try_from(self.layers.len()).unwrap();
            off(*cost, answers.next().unwrap(), roundings);
        }
        let (quantity, value) = answers
            .next()
            .and_then(|line| line.strip_prefix("left ")?.split_once(' '))
            .unwrap();
        let left: i64 = self.layers.iter().map(|layer| layer.quantity).sum();
        assert_eq!(left.to_string(), quantity, "{}", self.asked);
        off(
            self.layers.iter().map(|layer| layer.value.get()).sum(),
            value,
            roundings + 1,
        );
    }
}

/// A decimal with 20 places as a whole number of them.
fn decimals(text: &str) -> i128 {
    let (whole, part) = text.split_once('.').unwrap();
    assert_eq!(part.len(), 20, "{text}");
    format!("{whole}{part}").parse().unwrap()
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        2 => (1..1_000_000_i64, prop_oneof![Just(0), 1..1_000_000_000_i64]).prop_map(|(q, v)| Act::Receive(q, v)),
        3 => (1..700_000_i64).prop_map(Act::Take),
        1 => (0..8_usize, 1..700_000_i64).prop_map(|(lot, quantity)| Act::FromLot(lot, quantity)),
    ]
}

/// Receipts at whole prices and uses in the order of the exercise.
fn textbook() -> Vec<Vec<Act>> {
    let receipt = |quantity: i64, price: i64| Act::Receive(quantity, quantity * price * 1_000_000);
    // Inputs: OpenStax, Principles of Accounting vol. 1, 10.2 EA2 and PA1; 10.3 EA1, PA1, PA2 and PA6.
    vec![
        vec![
            receipt(150, 10),
            receipt(160, 12),
            receipt(130, 15),
            Act::Take(390),
        ],
        vec![
            receipt(1050, 22),
            receipt(1020, 23),
            receipt(1300, 26),
            receipt(1200, 27),
            Act::Take(3670),
        ],
        vec![
            receipt(800, 50),
            receipt(600, 52),
            Act::Take(400),
            Act::Take(350),
        ],
        vec![receipt(110, 87), receipt(140, 89), Act::Take(95)],
        vec![receipt(105, 40), receipt(150, 42), Act::Take(88)],
        vec![
            receipt(240, 100),
            Act::Take(160),
            receipt(520, 103),
            Act::Take(400),
            receipt(400, 110),
            Act::Take(370),
        ],
    ]
}

#[needs::variable(LAYER_ORACLE_PYTHON)]
#[test]
#[expect(
    clippy::disallowed_methods,
    reason = "a test names its tools by the environment"
)]
fn costs_of_any_history_are_those_of_a_bookkeeping_library() {
    let python = std::env::var_os("LAYER_ORACLE_PYTHON").unwrap();
    let mut runner = TestRunner::deterministic();
    let random = prop::collection::vec(act(), 1..30);
    let mut drawn = textbook();
    drawn.extend((0..HISTORIES).map(|_| random.new_tree(&mut runner).unwrap().current()));
    let mut histories = Vec::new();
    for acts in &drawn {
        for method in [Method::Fifo, Method::MovingAverage] {
            let mut history = History::new(method);
            acts.iter().for_each(|act| history.act(act));
            histories.push(history);
        }
    }
    let uses: usize = histories.iter().map(|history| history.costs.len()).sum();
    assert!(uses > HISTORIES, "{uses} uses prove little");
    let asked: String = histories
        .iter()
        .map(|history| history.asked.as_str())
        .collect();
    let answered = ask(&python, &asked);
    let mut lines = answered.lines();
    for history in &histories {
        history.compare(&mut lines);
    }
    assert_eq!(lines.next(), None, "more answers than questions");
}

fn ask(python: &std::ffi::OsStr, asked: &str) -> String {
    let script = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/domain/oracle/layers.py"
    );
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| panic!("{}: {error}", python.display()));
    child
        .stdin
        .take()
        .unwrap()
        .write_all(asked.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "the library refused a history");
    String::from_utf8(output.stdout).unwrap()
}
