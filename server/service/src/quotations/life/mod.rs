//! The life of a quotation: made, accepted, closed, paid.

mod accept;
pub(in crate::quotations) mod cash;
pub(in crate::quotations) mod close;
mod make;
pub(crate) mod of_garment;
mod pay;
pub(crate) mod promised;
