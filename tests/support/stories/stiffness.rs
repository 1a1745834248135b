//! Canvas whose stiffness is known.

use crate::Workshop;

/// A canvas (L1), a fusible felt with a datasheet's figures (L2), a serge (L3) and a muslin of which nothing is known (L4).
pub fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&["buy --date 2026-10-05 \
         --line 'material=Harbour canvas,kind=interlining,paid=3m,price=30,full-width=90cm,mass=200gsm,fusible=no,\
         shrinkage=4%/1%' \
         --line 'material=Collar felt,kind=interlining,paid=2m,price=20,full-width=90cm,mass=200gsm,fusible=yes,\
         shrinkage=1%/1%,stiffness-lengthwise=20mm,stiffness-crosswise=22.736uJ/m' \
         --line 'material=Navy serge,kind=cloth,paid=5m,price=90,full-width=150cm,mass=300gsm,shrinkage=1%/1%,\
         stiffness-lengthwise=25uNm' \
         --line 'material=Muslin,kind=interlining,paid=2m,price=20,full-width=90cm'"]);
    workshop
}
