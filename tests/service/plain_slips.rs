//! What is hardly meant is asked about, and what cannot be is said first.

use crate::lines::Workshop;
use ellwand_contract::ProblemType;

/// The linen is raw and would have to be washed, too: but 9 m of 4 m no washing gives.
#[test]
fn too_little_is_said_before_what_could_be_confirmed() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,shrinkage=5%/2%'",
        "garment plan dress --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=washed'",
    ]);
    let problem = workshop.run("cut G1 shell 9m --from L1").problem();
    assert_eq!(problem.kind, ProblemType::ExceedsOnHand);
    assert!(problem.detail.contains("has 4.00 m"), "{}", problem.detail);
    let problem = workshop.run("cut G1 shell 2m --from L1").problem();
    assert_eq!(problem.kind, ProblemType::NeedsConfirmation);
}

/// By hand: 4.10 m of 4.00 m grew 2.5 %, where 5 % were to be lost.
#[test]
fn a_wash_that_lengthens_what_should_shrink_is_asked_about() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,shrinkage=5%/2%'",
        "buy --line 'material=felt,kind=cloth,paid=4m,price=40,full-width=150cm'",
    ]);
    workshop.run("wash done L1.1 --length 4.10m").refused(
        1,
        &[
            "a growth of 2.5 % lengthwise, where a loss of 5 % was expected",
            "--really",
        ],
    );
    workshop.all(&[
        "wash done L1.1 --length 4.10m --really",
        // Of what nothing was expected, some growth is believed.
        "wash done L2.1 --length 4.10m",
    ]);
    workshop.audit();
}

#[test]
fn hours_and_taxes_that_are_hardly_meant_are_asked_about() {
    let workshop = Workshop::new();
    workshop.all(&["garment plan dress"]);
    workshop
        .run("work G1 sewing 400h")
        .refused(1, &["400h is more than 100 h at once", "--really"]);
    workshop.run("workshop tax VAT 250%").refused(
        1,
        &["a tax of 250% is more than half of the price", "--really"],
    );
    workshop.all(&[
        "work G1 sewing 100h --kind hand",
        "work G1 sewing 400h --kind hand --really",
        "workshop tax VAT 50%",
        "workshop tax VAT 250% --really",
    ]);
}

/// Widths that cloth is not made in, and days that cannot be meant, are asked about or refused.
#[test]
fn widths_and_days_that_cannot_be_meant() {
    let workshop = Workshop::new();
    let buy = |width: &str| {
        format!("buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width={width}'")
    };
    for width in ["15m", "1.5cm"] {
        workshop.run(&buy(width)).refused(
            1,
            &["a full width of", "2 cm to 400 cm is usual", "--really"],
        );
    }
    workshop.all(&[
        &buy("4m"),
        "garment plan bag --operation 'name=sewing,kind=hand,planned=2h'",
    ]);
    workshop
        .run("work G1 sewing 2h --date 1026-10-02")
        .refused(1, &["1026-10-02 is more than 50 years ago", "year"]);
    workshop
        .run("work G1 sewing 2h --date 2025-10-02")
        .refused(1, &["days before G1 was planned", "--really"]);
    workshop.all(&["work G1 sewing 2h --date 2025-10-02 --really"]);
}
