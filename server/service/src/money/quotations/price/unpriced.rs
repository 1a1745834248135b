//! Stages that are a share of what has no price.

use crate::money::quotations::{ask, base::Base, freeze::Basis};
use crate::{desk::failure::Done, money::costs::Missing};
use ellwand_contract::{Problem, ProblemType, quotations::StageInput};
use ellwand_domain::{
    pricing::{PriceGroup, PriceLineOf, ShareOf, Term},
    quantity::PartsPerMillion,
};

/// Refuses a stage that is a share of materials or of labour of which not all is priced, or that come to nothing: the customer
/// would be asked for too little, or for nothing.
pub(super) fn check(base: &Base, basis: &Basis, stages: &[StageInput]) -> Done<()> {
    for stage in ask::stages(basis.currency, stages)? {
        for term in &stage.terms {
            let Term::Share { of, share } = *term else {
                continue;
            };
            let (what, amount, material) = match of {
                ShareOf::Gross => continue,
                ShareOf::Materials | ShareOf::MaterialsWithTax => {
                    ("the materials", basis.shown(PriceLineOf::Materials), true)
                }
                ShareOf::Labour | ShareOf::LabourWithTax => {
                    ("the labour", basis.shown(PriceLineOf::Labour), false)
                }
            };
            if share == PartsPerMillion::ZERO {
                continue;
            }
            let of = |missing: &&Missing| (missing.group == PriceGroup::Materials) == material;
            let missing: Vec<String> = base.missing.iter().filter(of).map(Missing::text).collect();
            let why = match missing.as_slice() {
                [] if amount.minor == 0 => "which come to nothing here".to_owned(),
                [] => continue,
                some => format!("and not all of that is priced: {}", some.join("; ")),
            };
            let hint = match material {
                true => {
                    "price them with --material-price ROLE=AMOUNT, or give the stage an amount of its own"
                }
                false => {
                    "set pay rates for the people who do it, or give the stage an amount of its own"
                }
            };
            let detail = format!("the stage {} is a share of {what}, {why}", stage.name);
            let refusal = Problem::new(ProblemType::InvalidValue, detail)
                .field("stage")
                .hint(hint);
            return Err(refusal.into());
        }
    }
    Ok(())
}
