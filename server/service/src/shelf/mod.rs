//! The shelf: materials, lots and their pieces, what is known of them and what is done to them.

pub(crate) mod day;
pub(crate) mod doubts;
pub(crate) mod goods;
pub(crate) mod list;
pub(crate) mod lots;
pub(crate) mod material_edit;
pub(crate) mod materials;
pub(crate) mod pooled;
pub(crate) mod pools;
pub(crate) mod sheet;
pub(crate) mod shelved;
mod standing;
pub(crate) mod stiffness;
pub(crate) mod wash;
pub(crate) mod worth;
