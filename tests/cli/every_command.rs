//! Each command once, in a day of a workshop: it does what its name says, and ends on the sentence, or shows the row, that
//! says so.

use crate::Workshop;

const DAY: &[(&str, &str)] = &[
    (
        "workshop set --currency EUR --end-allowance 0cm",
        "Changed the workshop's settings.",
    ),
    (
        "workshop pay-rate owner 24.00",
        "Set an hour of owner to 24.00 EUR.",
    ),
    (
        "workshop overhead 6.50",
        "Set the overhead to 6.50 an hour, in EUR.",
    ),
    ("workshop tax VAT 20%", "Set the tax VAT to 20%."),
    (
        "workshop price-rule --margin 35%",
        "Prices are made by a margin of 35 %.",
    ),
    ("workshop price-rule --forget", "Forgot the price rule."),
    (
        "workshop tax-reclaim no",
        "Tax on purchases of that day and later is a cost",
    ),
    (
        "workshop close 2026-01-31 --yes",
        "The books are closed up to 2026-01-31",
    ),
    (
        "workshop spent --from 2026-02-01 --to 2026-02-28 --overhead 500",
        "Kept 500 spent from 2026-02-01 to 2026-02-28, in EUR.",
    ),
    ("workshop", "6.50"),
    ("whoami", "whoever has the book may do everything"),
    (
        "operation set hem --minutes 45m --kind hand",
        "hem usually takes 45 min per garment.",
    ),
    ("operation list", "45 min"),
    (
        "operation forget hem",
        "hem is no longer a usual operation.",
    ),
    (
        "buy --supplier 'Cloth Stall' --line 'material=linen,kind=cloth,full-width=150cm,paid=9m,price=90' \
             --line 'material=button,kind=trim,paid=20,price=10'",
        "Booked P1 as B12: 2 lots worth 100.00 EUR.",
    ),
    (
        "buy charge P1 freight=6.00",
        "Added the charge to P1, which now costs 106.00 EUR.",
    ),
    ("buy show P1", "added later"),
    ("buy list", "106.00"),
    ("supplier edit S1 --note 'open on Thursdays'", "Changed S1."),
    ("supplier list", "open on Thursdays"),
    ("material edit M1 --mass 200gsm", "Changed M1."),
    ("material list", "linen"),
    ("lot edit L1 --mass 200gsm", "Changed L1 (B16)."),
    ("lot place L1.1 A2", "Put L1.1 in A2 (B17)."),
    (
        "lot flaw L1.1 --at 8.90m --length 1cm",
        "Marked a flaw in L1.1 at 8.90m (B18).",
    ),
    ("lot flaw-remove L1.1 1", "Removed flaw 1 from L1.1 (B19)."),
    ("lot split L1.1 2m", "Split 2m off L1.1 as L1.2 (B20)."),
    ("lot measure L1.2 2.01m", "Measured L1.2 at 2.01m (B21)."),
    ("lot weigh L1.2 600g", "Weighed L1.2 at 600g (B22)."),
    (
        "lot stiffness L1 --lengthwise 62mm --crosswise 41mm",
        "Recorded the stiffness of L1 (B23).",
    ),
    ("lot show L1", "linen"),
    (
        "wash test L1 --length 350mm=340mm",
        "Recorded the wash test of L1 (B24).",
    ),
    (
        "wash done L1.1 --preparation washed --length 6.80m",
        "Noted that L1.1 was washed and measures 6.80m now (B25).",
    ),
    (
        "garment plan top --for Ada --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=washed' \
             --need 'role=buttons,kind=trim,count=4' --operation 'name=sewing,kind=machine,planned=2h,detail=hem'",
        "Planned G1, top for Ada.",
    ),
    (
        "garment edit G1 --due 2027-01-10",
        "Changed the plan of G1, top for Ada.",
    ),
    ("garment copy G1", "Planned G2, top, as G1."),
    ("garment list", "2027-01-10"),
    ("garment show G1", "sewing"),
    ("garment seams G1", "G1 has no seams in its plan."),
    ("garment estimate G1", "together"),
    ("customer edit C1 --note 'chest 96 cm'", "Changed C1."),
    ("customer list", "chest 96 cm"),
    (
        "customer measure C1 chest=104cm,collar=41cm",
        "Kept 2 measures of C1 (",
    ),
    ("customer show C1", "104cm"),
    (
        "candidates G1",
        "promise one need with ellwand reserve G1 shell --from L1.1",
    ),
    (
        "reserve G1 shell --from L1.1",
        "Reserved 1.00 m of L1.1 for the shell of G1.",
    ),
    (
        "reserve G1 --all --yes",
        "Reserved 4 of L2.1 for the buttons of G1.",
    ),
    ("garment promises G1", "buttons"),
    ("release R2", "Released 1 promise."),
    (
        "quote make G1 --markup 50% --try",
        "Only tried, nothing is booked: ",
    ),
    ("quote make G1 --markup 50%", "Made Q1: "),
    ("quote show Q1", "on delivery"),
    ("quote list", "open"),
    (
        "quote again Q1 --markup 60% --try",
        "Only tried, nothing is booked",
    ),
    ("quote again Q1 --markup 60%", "Made version 2 of Q1."),
    ("quote accept Q1 --version 2", "Accepted version 2 of Q1: "),
    ("quote pay Q1 10.00", "Logged 10.00 EUR on Q1; "),
    ("quote receipt Q1", "received 10.00 EUR on "),
    ("quote words", "quotation = \"Quotation\""),
    ("quote words --forget", "Sheets have their usual words."),
    ("cut G1 shell", "Cut 1.00 m of L1.1 for the shell of G1: "),
    (
        "work G1 sewing 2h30",
        "Logged 2 h 30 min of sewing on G1, for the hem by owner at 24.00 an hour.",
    ),
    ("cost G1", "actual"),
    ("garment finish G1 --really", "Finished G1, top for Ada."),
    ("garment deliver G1", "Delivered G1, top for Ada."),
    ("garment rate G1 hem 4", "Rated the hem of G1: 4 of 5."),
    ("details", "hem"),
    ("quote outcome Q1", "paid 10.00"),
    ("quote make G2 --markup 10%", "Made Q2: "),
    ("quote close Q2", "Closed Q2."),
    ("garment cancel G2", "Cancelled G2, top."),
    ("person set anna --paid", "Hours of anna are paid."),
    ("person list", "24.00 from the beginning"),
    (
        "person show anna",
        "Hours of anna are paid; first named on 2026-10-12 by ",
    ),
    ("seam 'length=220cm,stitch=301'", "6.44 m"),
    (
        concat!(
            "pattern show ",
            env!("CARGO_MANIFEST_DIR"),
            "/../tests/data/half_back.dxf"
        ),
        "in pairs",
    ),
    ("thread-count 'Ne 40/2' --mass 95g", "ticket"),
    ("shelf", "Showed 3 pieces, values in EUR."),
    (
        "shelf --on 2026-10-11",
        "Nothing of that was on the shelf on 2026-10-11.",
    ),
    ("month", "worth in all"),
    ("value --on 2026-10-12", "on the shelf"),
    ("material edit M2 --least 20", "least level"),
    ("material edit M2 --least none", "Changed M2."),
    (
        "history",
        "Bought 9.00 m linen and 1 more from Cloth Stall.",
    ),
    ("history B18", "flaw"),
    ("undo B24", "Undid B24 ("),
    (
        "give L1.2 20cm --reason 'for the school fair'",
        "Gave away 0.20 m of L1.2: cost ",
    ),
    (
        "sell L2.1 2 --price 3.00 --to Ada",
        "sold to Ada (C1) for 3.60 EUR, VAT 20 % 0.60 in it; cost 1.06, gain 1.94",
    ),
    (
        "discard L1.2 10cm --reason 'moth holes'",
        "Discarded 0.10 m of L1.2: a loss of ",
    ),
    ("garment plan vest --for Bo", "Planned G3, vest for Bo."),
    ("garment cancel G3", "Cancelled G3, vest"),
    (
        "buy --line 'material=silk,kind=cloth,full-width=90cm,paid=2m,price=unknown'",
        "no price yet, counted as nothing: L3",
    ),
    (
        "lot price L3 9.00/m",
        "Logged the price of L3, which now costs 18.00 EUR",
    ),
    ("customer erase C2 --yes", "Erased the name of C2"),
    (
        "token create cleo --role viewer --label 'shop window' --until 2027-01-31",
        "T1 for cleo, viewer, until 2027-01-31. It is shown only now",
    ),
    ("token list", "shop window"),
    ("token revoke T1", "T1 of cleo no longer opens anything."),
    (
        "garment plan cap --need 'role=shell,kind=cloth,preparation=none,grain=lengthwise' \
             --part 'need=shell,name=crown,count=2,length=30cm,width=20cm'",
        "Planned G4, cap.",
    ),
    (
        "lay G4 --width 60cm --keep --note 'nap up'",
        "Kept it as Y1 (B",
    ),
    ("lay Y1", "in the kept lay Y1"),
    ("audit", "The book is in order."),
];

#[test]
fn every_command_says_what_it_did() {
    let workshop = Workshop::new();
    for (line, words) in DAY {
        let ran = workshop.run(line).done();
        assert!(
            format!("{}{}", ran.out, ran.err).contains(words),
            "no \"{words}\" after {line}: {ran:?}"
        );
    }
}

#[test]
fn a_command_that_answers_in_json_says_nothing_else() {
    let workshop = Workshop::new();
    for (line, _) in DAY {
        let ran = workshop.run(&format!("{line} --json")).done();
        assert!(
            serde_json::from_str::<serde_json::Value>(&ran.out).is_ok(),
            "{line}: {ran:?}"
        );
        assert_eq!(ran.err, "", "{line}");
    }
}
