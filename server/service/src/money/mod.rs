//! Money: what an hour costs, what a garment cost, and what it is sold for.

pub(crate) mod costs;
pub(crate) mod figures;
pub(crate) mod overhead;
pub(crate) mod quotations;
pub(crate) mod rates;
pub(crate) mod tax;
