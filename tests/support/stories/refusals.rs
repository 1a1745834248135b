//! A shelf on which acts are refused.

use crate::Workshop;

pub fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --date 2026-10-05 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan dress --need 'role=shell,kind=cloth,length=2.00m,width=140cm,preparation=none'",
        "garment plan other --need 'role=shell,kind=cloth,length=2.00m,width=140cm,preparation=none'",
    ]);
    workshop
}
