//! What a version keeps and shows.

pub(in crate::money::quotations) mod customer;
pub(in crate::money::quotations) mod freeze;
pub(in crate::money::quotations) mod list;
pub(in crate::money::quotations) mod show;
