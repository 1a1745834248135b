//! What a version keeps and shows.

pub(in crate::quotations) mod customer;
pub(in crate::quotations) mod freeze;
pub(in crate::quotations) mod list;
pub(in crate::quotations) mod show;
