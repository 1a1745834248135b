//! Typos, wrong order, wrong unit, a value left out: each is answered in at most three lines that hold what to type.

use super::{Maker, lines};

/// A command, and what its answer holds. The book has a shirt G1 that is planned and quoted (Q1), not accepted; its shell asks for
/// the blue linen L5.1; L1.1 is white poplin.
const MISTAKES: &[(&str, &str)] = &[
    // Typos.
    ("shlf", "did you mean shelf?"),
    ("garmnet list", "did you mean garment?"),
    ("garment shwo G1", "did you mean show?"),
    ("shelf --kid cloth", "did you mean --kind?"),
    ("shelf --kind clot", "did you mean cloth?"),
    ("history --kind bougth", "did you mean bought?"),
    ("reserve G1 shel --from L5.1", "shell"),
    (
        "garment edit G1 --need 'role=shel,length=2m'",
        "did you mean shell?",
    ),
    (
        "garment plan coat --need 'role=shell,kind=cloth,lenght=2.5m'",
        "did you mean length?",
    ),
    (
        "buy --line 'material=linen,kind=clot,paid=3m,price=40,full-width=150cm'",
        "did you mean cloth?",
    ),
    ("work G1 sewing 2h --date tomorow", "for example 2026-10-03"),
    (
        "help threads",
        "interlining, seams, stiffness, thread, trims",
    ),
    ("lot show X1", "for example L17"),
    ("undo X5", "for example B104"),
    // Wrong order.
    ("cut G1 --all", "ellwand reserve G1 --all"),
    ("cut G1 shell", "choose a piece with --from"),
    ("garment deliver G1", "ellwand garment deliver G1 --finish"),
    ("quote pay Q1 12.50", "ellwand quote accept Q1"),
    ("reserve G9 shell --from L1.1", "ellwand garment list"),
    ("reserve G1 shell --from L99.1", "ellwand shelf"),
    ("quote accept Q9", "ellwand quote list"),
    ("undo B999", "ellwand history"),
    ("work G1 hemming 2h", "--kind machine, hand"),
    // Wrong unit.
    ("wash done L1.1=3.80", "for example 3.80m"),
    ("wash done L1.1=3.80kg", "for example 2.5m"),
    ("work G1 sewing 2", "for example 2h"),
    ("work G1 sewing 2x", "for example 2h30"),
    (
        "garment plan coat --need 'role=shell,kind=cloth,length=2.5'",
        "for example 2.5m",
    ),
    (
        "buy --line 'material=linen,kind=cloth,paid=3,price=40,full-width=150cm'",
        "for example 3m",
    ),
    (
        "buy --line 'material=linen,kind=cloth,paid=3m,price=forty,full-width=150cm'",
        "for example 12.50",
    ),
    ("lot measure L1.1 3.95", "for example 3.95m"),
    ("give L1.1 60", "for example 60cm"),
    ("quote make G1 --margin 35", "for example 35%"),
    (
        "quote make G1 --with 'shell=64.00,width=150cm'",
        "shell=64.00/m,width=150cm",
    ),
    ("workshop set --currency EURO", "for example EUR"),
    ("month 2026-13", "for example 2026-11"),
    ("shelf --units meters", "choose from metric, imperial"),
    // A value left out.
    (
        "reserve G1",
        "for example ellwand reserve G1 shell --from L1.1",
    ),
    ("cut G1", "ellwand cut G1 --all"),
    ("wash done L1.1", "L1.1=3.80m"),
    ("work G1 sewing", "for example ellwand work G1 sewing 2h30"),
    ("quote pay Q1", "for example ellwand quote pay Q1 120.00"),
    ("lot place L1", "for example ellwand lot place L1.1 A2"),
    ("release", "for example ellwand release R12"),
    (
        "sell L1.1 1m",
        "for example ellwand sell L1.1 1.50m --price 24.00/m",
    ),
    (
        "workshop tax VAT",
        "for example ellwand workshop tax VAT 20%",
    ),
    (
        "garment plan coat --need 'kind=cloth,length=2.5m,width=140cm'",
        "for example role=shell",
    ),
    ("buy --file ./nowhere.toml", "check its path"),
];

pub fn each_is_answered(maker: &Maker) {
    let before = maker.run("history --json").done().out;
    let mut poor = Vec::new();
    let mut most = 0;
    for (line, holds) in MISTAKES {
        let ran = maker.run(line);
        let taken = lines(&ran.err);
        most = most.max(taken);
        if ran.code == 0 || taken > 3 || !ran.err.contains(holds) || !ran.out.is_empty() {
            poor.push(format!(
                "$ {line}\n{}{}[{taken} lines; wanted: {holds}]",
                ran.out, ran.err
            ));
        }
    }
    println!("{} mistakes, each in at most {most} lines", MISTAKES.len());
    assert!(MISTAKES.len() >= 40);
    assert!(poor.is_empty(), "{}", poor.join("\n"));
    assert_eq!(
        maker.run("history --json").done().out,
        before,
        "nothing was booked"
    );
}
