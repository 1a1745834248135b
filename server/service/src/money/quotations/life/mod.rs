//! The life of a quotation: made, accepted, closed, paid.

mod accept;
pub(in crate::money::quotations) mod cash;
pub(in crate::money::quotations) mod close;
mod make;
pub(crate) mod of_garment;
mod pay;
pub(crate) mod promised;
