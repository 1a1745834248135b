//! A dress that is offered in several ways.

use crate::Workshop;
use serde_json::Value;

/// A dress at 24.00 of pay and 6.50 of overhead an hour (the rates of the job in OpenStax, Principles of Accounting vol. 2,
/// 4.2, as derived there): linen for 2.45 m at 10.00, canvas for 0.45 m at 12.00, 7 h of work.
pub fn planned() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=5m,price=50.00' \
             --line 'material=hair canvas,kind=interlining,full-width=80cm,paid=2m,price=24.00'",
        "workshop pay-rate owner 24.00 --from 2026-01-01",
        "workshop overhead 6500 --hours 1000h --from 2026-01-01",
        "workshop tax standard 20%",
        "garment plan dress --for 'Anna Muster' \
             --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=none' \
             --need 'role=canvas,kind=interlining,length=40cm,width=70cm,preparation=none,detail=Collar' \
             --operation 'name=sewing,kind=machine,planned=5h' \
             --operation 'name=machine hem,kind=machine,planned=30min,detail=hem' \
             --operation 'name=pad stitching,kind=hand,planned=1h30,detail=collar'",
    ]);
    workshop
}

pub const HAND: &str = "--option 'hand hem' --option-without 'hand hem=machine hem' \
     --option-operation 'option=hand hem,name=hand hem,kind=hand,planned=2h,detail=hem'";

/// As `quote make` with the plan and two options: a hem by hand, and no collar.
pub fn quoted(workshop: &Workshop) -> Value {
    workshop.json(&format!(
        "quote make G1 --margin 35% --stage 'deposit=40% of gross' --stage rest --plan-is 'machine hem' {HAND} \
             --option plain --option-without plain=collar"
    ))
}

pub fn texts(of: &Value, fields: &[&str]) -> Vec<String> {
    fields
        .iter()
        .map(|field| of[field].as_str().unwrap_or_default().to_owned())
        .collect()
}
