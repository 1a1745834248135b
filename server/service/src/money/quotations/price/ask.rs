//! How a price was asked for, read from what was typed.

use crate::desk::{
    Desk,
    context::Context,
    failure::{Done, invalid},
};
use crate::money::quotations::{part_rates::PartRates, refused};
use ellwand_contract::quotations::{PriceInput, StageInput};
use ellwand_domain::{
    pricing::{Charm, PriceRule, PricesShown, ShareOf, StagePlan, Term, Terms},
    quantity::{Currency, HourlyRate, Money, PartsPerMillion},
};

/// A price as asked for.
pub(in crate::money::quotations) struct Asked {
    pub(in crate::money::quotations) terms: Terms,
    pub(in crate::money::quotations) charm: Option<Charm>,
    /// The rule in words.
    pub(in crate::money::quotations) words: String,
}

/// True where it is said how a price is made of its costs.
pub(in crate::money::quotations) const fn has_rule(input: &PriceInput) -> bool {
    let PriceInput {
        markup,
        margin,
        hourly,
        price,
        material_markup,
        ..
    } = input;
    markup.is_some()
        || margin.is_some()
        || hourly.is_some()
        || price.is_some()
        || material_markup.is_some()
}

fn share(field: &str, text: &str) -> Done<PartsPerMillion> {
    text.parse()
        .map_err(|error| invalid(field, format!("{error}")))
}

impl Asked {
    pub(in crate::money::quotations) fn read(
        desk: &mut Desk<'_>,
        input: &PriceInput,
    ) -> Done<Self> {
        let shown = desk.context.workshop.prices_shown;
        Self::with_rates(desk.context, input, shown, || PartRates::read(desk, input))
    }

    /// A price at rates that are known already.
    pub(in crate::money::quotations) fn with_rates(
        context: &Context<'_>,
        input: &PriceInput,
        shown: PricesShown,
        rates: impl FnOnce() -> Done<PartRates>,
    ) -> Done<Self> {
        let PriceInput {
            discount,
            round_up,
            handling,
            ..
        } = input;
        let Rule {
            rule,
            on_materials,
            words,
        } = Rule::read(context, input, shown)?;
        let discounts = discount
            .iter()
            .map(|text| share("discount", text))
            .collect::<Done<Vec<_>>>()?;
        let charm = round_up
            .as_deref()
            .map(|text| charm(context.currency, text))
            .transpose()?;
        let handling = handling
            .as_deref()
            .map(|text| context.home_money("handling", text))
            .transpose()?;
        let PartRates { all: rates, of } = rates()?;
        let handling = handling.unwrap_or_default();
        Ok(Self {
            terms: Terms {
                rule,
                on_materials,
                handling,
                discounts,
                shown,
                rates,
                of,
            },
            charm,
            words,
        })
    }
}

/// How a price is made of its costs.
struct Rule {
    rule: PriceRule,
    on_materials: Option<PartsPerMillion>,
    words: String,
}

impl Rule {
    fn read(context: &Context<'_>, input: &PriceInput, shown: PricesShown) -> Done<Self> {
        let rules = [
            ("markup", &input.markup),
            ("margin", &input.margin),
            ("hourly", &input.hourly),
            ("price", &input.price),
        ];
        let mut given_rules = rules.into_iter().filter(|(_, text)| text.is_some());
        let (first, second) = (given_rules.next(), given_rules.next());
        if let (Some((first, _)), Some((second, _))) = (first, second) {
            let detail = format!("a price is made by {first} or by {second}, not by both");
            return Err(invalid(second, detail));
        }
        let material = input.material_markup.as_deref();
        let material = material
            .map(|text| share("material_markup", text))
            .transpose()?;
        if material.is_some_and(|material| material < PartsPerMillion::ZERO) {
            let detail = "the markup on materials must not be negative";
            return Err(invalid("material_markup", detail));
        }
        match first {
            Some(("margin", Some(text))) => Self::margin(text, material),
            Some(("hourly", Some(text))) => Self::hourly(text, material),
            Some(("price", Some(text))) => Self::given(context, text, material, shown),
            _ => Self::markup(input, material),
        }
    }

    fn margin(text: &str, on_materials: Option<PartsPerMillion>) -> Done<Self> {
        let margin = share("margin", text)?;
        Ok(Self {
            rule: PriceRule::Margin(margin),
            on_materials,
            words: format!("a margin of {margin}"),
        })
    }

    fn hourly(text: &str, material: Option<PartsPerMillion>) -> Done<Self> {
        let per_hour: HourlyRate = text
            .parse()
            .map_err(|error| invalid("hourly", format!("{error}")))?;
        let materials = material.unwrap_or_default();
        Ok(Self {
            rule: PriceRule::HourlyTarget {
                per_hour,
                materials,
            },
            on_materials: Some(materials),
            words: format!("{} for every own hour", per_hour.decimal()),
        })
    }

    fn given(
        context: &Context<'_>,
        text: &str,
        on_materials: Option<PartsPerMillion>,
        shown: PricesShown,
    ) -> Done<Self> {
        let given = context.home_money("price", text)?;
        let tax = match shown {
            PricesShown::WithTax => ", tax included",
            PricesShown::WithoutTax => "",
        };
        Ok(Self {
            rule: PriceRule::Fixed(given),
            on_materials,
            words: format!("a given price of {}{tax}", context.printed(given)),
        })
    }

    fn markup(input: &PriceInput, material: Option<PartsPerMillion>) -> Done<Self> {
        let work = input.markup.as_deref().map(|text| share("markup", text));
        let work = work.transpose()?.unwrap_or_default();
        let materials = material.unwrap_or(work);
        let words = match materials == work {
            true if !has_rule(input) => "no rule: it is what the garment costs".to_owned(),
            true => format!("a markup of {work}"),
            false => format!("a markup of {materials} on materials and {work} on work"),
        };
        Ok(Self {
            rule: PriceRule::Markup { materials, work },
            on_materials: Some(materials),
            words,
        })
    }
}

/// `5`, `10`, `x.95`.
fn charm(currency: Currency, text: &str) -> Done<Charm> {
    let money = |text: &str| {
        let money = Money::parse(text, Some(currency));
        money.map_err(|error| {
            invalid(
                "round_up",
                format!("{error}; give a step such as 5, or x.95"),
            )
        })
    };
    let (step, ending) = match text.trim().strip_prefix(['x', 'X']) {
        Some(ending) => (
            currency.money(currency.minor_per_major()),
            money(&format!("0{ending}"))?,
        ),
        None => (money(text)?, currency.money(0)),
    };
    Charm::new(step, ending).map_err(refused("round_up"))
}

/// Stages as agreed; none: all of it on delivery.
pub(in crate::money::quotations) fn stages(
    currency: Currency,
    stages: &[StageInput],
) -> Done<Vec<StagePlan>> {
    if stages.is_empty() {
        return Ok(vec![StagePlan {
            name: "on delivery".to_owned(),
            terms: Vec::new(),
        }]);
    }
    let plan = |stage: &StageInput| {
        let name = crate::people::parties::clean_name("stage", &stage.name)?;
        let terms = stage
            .amount
            .as_deref()
            .map(|text| terms("stage", currency, text))
            .transpose()?;
        Ok(StagePlan {
            name,
            terms: terms.unwrap_or_default(),
        })
    };
    stages.iter().map(plan).collect()
}

/// True for a stage that is a share of a line of the price.
pub(in crate::money::quotations) fn is_of_a_line(plan: &StagePlan) -> bool {
    let of_line = |term: &Term| {
        matches!(
            term,
            Term::Share {
                of: ShareOf::Labour | ShareOf::Materials,
                ..
            }
        )
    };
    plan.terms.iter().any(of_line)
}

/// `50% of labour + materials with tax`, `120.00`; a part without a share is all of it.
pub(in crate::money::quotations) fn terms(
    field: &str,
    currency: Currency,
    text: &str,
) -> Done<Vec<Term>> {
    let term = |text: &str| match text.split_once(" of ") {
        Some((part, of)) => {
            let of = of
                .parse()
                .map_err(|error| invalid(field, format!("{error}")))?;
            Ok(Term::Share {
                of,
                share: share(field, part)?,
            })
        }
        None if text.ends_with('%') => Err(invalid(
            field,
            format!("{text} of what? write {text} of gross, of labour or of materials"),
        )),
        None if text.starts_with(char::is_alphabetic)
            && !text.contains(|letter: char| letter.is_ascii_digit()) =>
        {
            let of = text
                .parse()
                .map_err(|error| invalid(field, format!("{error}")))?;
            Ok(Term::Share {
                of,
                share: PartsPerMillion::WHOLE,
            })
        }
        None => {
            let fixed = Money::parse(text, Some(currency));
            let hint = "; give an amount, or a share such as 40% of gross";
            Ok(Term::Fixed(fixed.map_err(|error| {
                invalid(field, format!("{error}{hint}"))
            })?))
        }
    };
    text.split('+').map(|part| term(part.trim())).collect()
}
