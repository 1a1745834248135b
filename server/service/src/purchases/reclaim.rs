//! Whether the tax on a purchase is reclaimed, and what says so.

use crate::desk::failure::{Done, invalid};
use chrono::NaiveDate;
use ellwand_contract::purchases::ChargeInput;
use ellwand_domain::setting::{ChargeKind, ReclaimBy};
use ellwand_storage::Tx;

/// As it is kept with a charge; other charges than taxes have no ground.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Reclaim {
    pub(super) reclaimed: bool,
    pub(super) by: Option<ReclaimBy>,
    pub(super) from: Option<NaiveDate>,
}

impl Reclaim {
    /// The charge's own word, else the setting on the day of the purchase; where there is none the tax is a cost, as it was
    /// before there was a setting.
    pub(super) fn of(tx: &mut Tx<'_>, input: &ChargeInput, day: NaiveDate) -> Done<Self> {
        if input.kind != ChargeKind::Tax {
            return match input.reclaim {
                Some(_) => Err(invalid("reclaim", "only a tax can be reclaimed")),
                None => Ok(Self::default()),
            };
        }
        if let Some(reclaimed) = input.reclaim {
            return Ok(Self {
                reclaimed,
                by: Some(ReclaimBy::Charge),
                from: None,
            });
        }
        Ok(match tx.tax_reclaim_on(day)? {
            Some(set) => {
                let (by, from) = (Some(ReclaimBy::Setting), Some(set.from_date));
                Self {
                    reclaimed: set.reclaimed,
                    by,
                    from,
                }
            }
            None => Self {
                by: Some(ReclaimBy::Unset),
                ..Self::default()
            },
        })
    }
}
