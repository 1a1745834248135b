//! Whether the tax on purchases is reclaimed, by date. Purchases keep what they were logged with.

use super::{change, settles};
use crate::{
    context::{Context, counter},
    failure::{Done, Failure, not_found},
    perform::Perform,
};
use ellwand_contract::workshop::{SetTaxReclaim, TaxReclaim, Workshop};
use ellwand_storage::Tx;

impl Perform for SetTaxReclaim {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Workshop, Failure> {
        let from_date = self.from.unwrap_or(context.today);
        let hint = match self.reclaim {
            Some(_) => "let it count from a later day on",
            None => "what counted in closed books stays; set it again from a later day on",
        };
        settles(context, from_date, "from", hint)?;
        match self.reclaim {
            Some(reclaimed) => {
                let id = tx.next_numbers(counter::RATE, 1)?;
                tx.save_tax_reclaim(&ellwand_storage::TaxReclaim {
                    id,
                    reclaimed,
                    from_date,
                })?;
            }
            None if tx.delete_tax_reclaim(from_date)? => {}
            None => {
                let what = format!("word on reclaiming tax from {from_date} on");
                return Err(not_found(
                    what,
                    "see ellwand workshop for the days there are",
                ));
            }
        }
        change(
            tx,
            context,
            context.workshop.clone(),
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
