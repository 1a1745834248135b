//! Interlining by parts.

use crate::Workshop;
use serde_json::Value;

/// A canvas (L1), a narrow one (L2), a fusible (L3) and a serge (L4).
pub fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&["buy --date 2026-10-05 \
         --line 'material=Harbour canvas,kind=interlining,paid=3m,price=30,full-width=90cm,mass=200gsm,fusible=no,\
         shrinkage=4%/2%' \
         --line 'material=Mast canvas,kind=interlining,paid=2m,price=20,full-width=45cm,fusible=no,shrinkage=4%/2%' \
         --line 'material=Collar felt,kind=interlining,paid=2m,price=20,full-width=90cm,mass=200gsm,fusible=yes,\
         shrinkage=4%/2%,stiffness-lengthwise=20mm,stiffness-crosswise=20mm' \
         --line 'material=Navy serge,kind=cloth,paid=5m,price=90,full-width=150cm,shrinkage=1%/1%,\
         stiffness-lengthwise=25uNm,stiffness-crosswise=20uNm'"]);
    workshop
}

#[track_caller]
pub fn holds(texts: &[&str], part: &str) {
    assert!(
        texts.iter().any(|text| text.contains(part)),
        "{part} is not in {texts:#?}"
    );
}

/// A jacket whose fronts are interlined: 2 × (50 × 46 cm less 1 cm all round) = 48 × 44 cm.
pub const FRONTS: &str = "--need 'role=fronts,kind=interlining,preparation=washed,grain=lengthwise' \
    --part 'need=fronts,name=front,length=50cm,width=46cm,allowance=1cm,count=2'";

pub fn texts(value: &Value) -> Vec<&str> {
    value
        .as_array()
        .unwrap()
        .iter()
        .map(|text| text.as_str().unwrap())
        .collect()
}
