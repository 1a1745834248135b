//! Making: what is cut, and who worked how long.

pub(crate) mod cuts;
pub(crate) mod work;
