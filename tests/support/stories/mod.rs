//! Workshops with a history that several tests go on from. Each test program has its own way to run a line.
#![allow(dead_code, reason = "each test program uses its part")]

pub mod cash;
pub mod closed;
pub mod corrections;
pub mod options;
pub mod outcome;
pub mod parts;
pub mod promised;
pub mod quotations;
pub mod rates;
pub mod reels;
pub mod refusals;
pub mod seams;
pub mod stiffness;
pub mod supplements;
pub mod together;
pub mod trims;
pub mod undo;

use crate::Workshop;

/// Lines of the invoice in pounds; derived from IAS 21 para 21 (one conversion of the total) and the largest
/// remainder (OpenStax, Contemporary Mathematics, 11.4).
pub const INVOICE: &str = "buy --supplier 'Harbour Stall' --date 2026-10-01 --currency GBP --rate 1.1700 --really \
    --line 'material=wool,kind=cloth,paid=4.00m,price=88.00,full-width=150cm,shrinkage=5%/2%' \
    --line 'material=lining,kind=cloth,paid=5.00m,price=32.00,full-width=140cm' \
    --charge 'freight=12.00,by=value' --charge 'duty=10.56,lines=1'";

pub fn prepared() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --currency EUR --end-allowance 0cm",
        "workshop pay-rate owner 24.00 --from 2026-10-01",
        "workshop overhead 6.50 --from 2026-10-01",
        INVOICE,
    ]);
    workshop
}

/// The jacket of that wool, cut and sewn; no sleeve has gone wrong yet.
pub fn sewn() -> Workshop {
    let workshop = prepared();
    workshop.all(&[
        "buy --line 'material=buttons,kind=trim,unit=count,paid=12,price=10.20' \
             --line 'material=thread,kind=thread,paid=500m,price=16.00'",
        "wash done L1.1 --preparation washed --length 3.80m --width 147cm --date 2026-10-02",
    ]);
    let wool = workshop.json("lot show L1");
    assert_eq!(wool["pieces"][0]["on_hand"]["length_m"], "3.8");
    assert_eq!(
        wool["pieces"][0]["value"], "125.61",
        "a preparation changes the length, not the value"
    );
    workshop.all(&[
        "garment plan jacket --need 'role=shell,kind=cloth,length=2.60m,width=140cm,preparation=washed' \
             --need 'role=lining,kind=cloth,length=2.40m,width=130cm,preparation=none,material=lining' \
             --need 'role=buttons,kind=trim,count=6' --need 'role=thread,kind=thread,length=100m' \
             --operation 'name=sewing,kind=hand,planned=9h'",
        "reserve G1 --all --yes",
        "cut G1 shell",
        "cut G1 lining",
        "cut G1 buttons",
        "cut G1 thread",
        "work G1 sewing 10h30",
    ]);
    workshop
}

/// A jacket that is planned: 7 h and 2 h at 27.17 and 8.70 an hour, cloth for 2.55 m of 6 m at 132.00, six buttons of twelve.
pub fn planned() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=waxed cotton,kind=cloth,full-width=150cm,paid=6m,price=132,shrinkage=4%/2%' \
             --line 'material=button,kind=trim,paid=12,price=10.20'",
        "workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%",
        "workshop tax standard 20%",
        "garment plan jacket --for 'Anna Muster' \
             --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=washed' \
             --need 'role=buttons,kind=trim,count=6' \
             --operation 'name=sewing,kind=machine,planned=7h' --operation 'name=hem,kind=hand,planned=2h'",
    ]);
    workshop
}

pub const GREY: &str = "material=grey thread,kind=thread,yarn-count=30tex";

/// A shelf with thread of two lots: L1 at 10.00 the 100 m, L2 at 20.00.
pub fn two_lots(method: &str) -> Workshop {
    let workshop = Workshop::new();
    let _ = workshop
        .run(&format!("workshop set --pooled-method {method}"))
        .done();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=100m,price=10.00,tare=12g'"),
        &format!("buy --line '{GREY},paid=100m,price=20.00,tare=12g'"),
    ]);
    workshop
}
