//! `ellwand workshop price-rule`.

use super::show::rule_words;
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::workshop::{GetWorkshop, SetPriceRule, Workshop};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop price-rule --margin 35% --round-up 5
  ellwand workshop price-rule --margin 35% --stage 'deposit=40% of gross' \\\n    --stage balance
  ellwand workshop price-rule --markup 60% --material-markup 20%
  ellwand workshop price-rule
  ellwand workshop price-rule --forget

Without options it shows the rule.")]
pub struct Args {
    #[command(flatten)]
    act: SetPriceRule,
    /// Forget the rule: prices are made only as each quotation says
    #[arg(long, conflicts_with_all = [
        "markup", "margin", "hourly", "material_markup", "round_up", "materials_at", "stage",
    ])]
    forget: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if self.forget || !is_empty(&self.act) {
            return self.act.run(context);
        }
        let Some(answer) = context.answer(&GetWorkshop {})? else {
            return Ok(());
        };
        match &answer.price_rule {
            Some(rule) => context.ui.line(rule_words(rule)),
            None => {
                context
                    .ui
                    .status("There is no price rule: a quotation says how its price is made.");
                context
                    .ui
                    .hint("set one with: ellwand workshop price-rule --margin 35%");
            }
        }
        Ok(())
    }
}

fn is_empty(act: &SetPriceRule) -> bool {
    let SetPriceRule {
        id: _,
        markup,
        margin,
        hourly,
        material_markup,
        round_up,
        materials_at,
        stage,
    } = act;
    let texts = [markup, margin, hourly, material_markup, round_up];
    texts.iter().all(|text| text.is_none()) && materials_at.is_none() && stage.is_empty()
}

impl Verb for SetPriceRule {
    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.status(match &answer.price_rule {
            Some(rule) => format!("Prices are made by {}.", rule_words(rule)),
            None => "Forgot the price rule.".to_owned(),
        });
        Ok(())
    }
}
