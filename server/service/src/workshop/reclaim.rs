//! Whether the tax on purchases is reclaimed, by date. Purchases keep what they were logged with.

use super::{Sets, change, settles};
use crate::desk::{
    Desk, counter,
    failure::{Done, not_found},
};
use ellwand_contract::workshop::{SetTaxReclaim, TaxReclaim, Workshop};
use ellwand_storage::Tx;

impl Sets for SetTaxReclaim {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        let from_date = self.from.unwrap_or(desk.context.today);
        let hint = match self.reclaim {
            Some(_) => "choose a later first day",
            None => "what counted in closed books stays; set it again from a later day on",
        };
        settles(desk.context, from_date, "from", hint)?;
        match self.reclaim {
            Some(reclaimed) => {
                let id = desk.tx.next_numbers(counter::RATE, 1)?;
                desk.tx.save_tax_reclaim(&ellwand_storage::TaxReclaim {
                    id,
                    reclaimed,
                    from_date,
                })?;
            }
            None if desk.tx.delete_tax_reclaim(from_date)? => {}
            None => {
                let what = format!("rule for reclaiming tax from {from_date} on");
                return Err(not_found(
                    what,
                    "see ellwand workshop for the days there are",
                ));
            }
        }
        change(
            desk,
            desk.context.workshop.clone(),
            "reclaiming of tax on purchases",
        )
    }
}

/// As it is shown, newest first.
pub(super) fn view(tx: &mut Tx<'_>) -> Done<Vec<TaxReclaim>> {
    let all = tx.tax_reclaims()?.into_iter();
    Ok(all
        .map(|row| TaxReclaim {
            reclaimed: row.reclaimed,
            from: row.from_date,
        })
        .collect())
}
