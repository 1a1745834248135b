//! What a garment is made of, in the customer's words: names of materials.

use crate::money::quotations::base::Base;
use crate::{
    desk::{Desk, failure::Done},
    garments::need::load_needs,
};
use ellwand_contract::quotations::MadeOf;
use ellwand_domain::{costing::LineKind, setting::Kind};
use ellwand_storage::Garment;

/// The material of each role but thread, each once. Where no cloth is known yet it is the one that the plan names, or none.
pub(in crate::money::quotations) fn made_of(
    desk: &mut Desk<'_>,
    garment: &Garment,
    base: &Base,
) -> Done<Vec<MadeOf>> {
    let needs = load_needs(desk, garment)?;
    let mut all: Vec<MadeOf> = Vec::new();
    for item in &base.source {
        if item.kind() != LineKind::Material || item.is_lost() {
            continue;
        }
        // A late charge, or material taken over, is no part that a customer sees.
        let Some(need) = needs.iter().find(|need| need.row.role == item.name) else {
            continue;
        };
        let named = need.plan.conditions.material;
        let id = item.material.or(named.map(|material| material.get()));
        let material = match id {
            Some(id) => desk.tx.material(id)?,
            None => None,
        };
        let kind = material.as_ref().map(|material| material.kind);
        if kind.unwrap_or(need.row.kind) == Kind::Thread {
            continue;
        }
        let part = MadeOf {
            role: item.name.clone(),
            material: material.map(|material| material.name),
        };
        if !all.contains(&part) {
            all.push(part);
        }
    }
    Ok(all)
}
