//! A need with all that bounds it.

use crate::{
    desk::failure::Done,
    garments::need::NeedRecord,
    promises::{Filled, Standing},
    shelf::stiffness::{self, Shell},
};
use ellwand_domain::setting::Kind;
use ellwand_storage::{Garment, Tx};

/// A need with all that bounds it.
pub(super) struct Question<'a> {
    pub(super) garment: &'a Garment,
    pub(super) need: &'a NeedRecord,
    /// Lots that it has cloth of already, when they may not be mixed.
    pub(super) bound: Vec<i64>,
    /// What is promised to it and cut for it.
    pub(super) filled: Filled,
    pub(super) open: i64,
    /// For an interlining: the cloth that it will be put to.
    pub(super) shell: Option<Shell>,
}

impl<'a> Question<'a> {
    pub(super) fn new(
        tx: &mut Tx<'_>,
        garment: &'a Garment,
        need: &'a NeedRecord,
        standing: &Standing,
    ) -> Done<Self> {
        let filled = standing.of(need)?;
        let bound = match need.plan.conditions.mixing {
            true => Vec::new(),
            false => filled.lots().to_vec(),
        };
        let shell = match need.row.kind {
            Kind::Interlining => stiffness::shell_of(tx, garment)?,
            _ => None,
        };
        Ok(Self {
            garment,
            need,
            bound,
            open: filled.open(),
            filled,
            shell,
        })
    }
}
