//! One line of a purchase, read.

use super::came::{Came, Coming};
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, invalid},
    },
    people::parties::find_or_make_customer,
    shelf::{
        doubts,
        materials::{self, within},
        shelved::{Measure, is_counted, read_sheet},
    },
};
use ellwand_contract::{
    Metres, Problem, ProblemType,
    purchases::{Buy, LineInput},
    sheets::Sheet,
};
use ellwand_domain::{
    cloth::{self, ClothDoubt},
    ledger::{Quantity, Rectangle},
    purchase::{self, Paid, Price, Replacement, about},
    quantity::{Count, Currency, Micrometres, Milligrams, QuantityError, parse::parse_length_down},
    shrinkage::{Preparation, ShrinkageError},
    thread,
};
use ellwand_storage::{Material, Tx};

/// A line that is ready to be landed and received.
pub(super) struct LineRead {
    pub(super) material: Material,
    pub(super) sheet: Sheet,
    pub(super) counted: bool,
    pub(super) owner: Option<i64>,
    /// What came, piece by piece.
    pub(super) pieces: Vec<Quantity>,
    /// True where that was worked out from a mass.
    pub(super) estimated: bool,
    pub(super) total: Quantity,
    pub(super) rectangle: Option<Rectangle>,
    pub(super) preparation: Option<Preparation>,
    /// True where its price is an estimate.
    pub(super) about: bool,
    /// What it would cost to buy again, while its price is not known.
    pub(super) replacement: Option<Replacement>,
    /// Price and keys that charges are shared by.
    pub(super) keys: purchase::Line,
    pub(super) notes: Vec<String>,
}

/// Reads a line; refusals name its field.
pub(super) fn parse_line(
    desk: &mut Desk<'_>,
    input: &LineInput,
    currency: Currency,
    buy: &Buy,
) -> Done<LineRead> {
    let really = buy.really;
    let found = materials::find_or_make(desk, &input.material, really);
    let (material, mut sheet) = found.map_err(|failure| within("material", failure))?;
    forget_reel_length(&material, &mut sheet, input)?;
    let kind = material.kind;
    let counted = is_counted(kind, &sheet);
    let shape = shape(desk.context, input, &sheet)?;
    let rectangle = kind.is_rectangle().then(|| rectangle(&shape)).transpose()?;
    let full = rectangle.and_then(|own| ClothDoubt::of_full_width(own.full));
    let (has, field) = (format!("{} has", material.name), "material.full_width");
    doubts::ask(&has, [field, field], full.as_slice(), really)?;
    let paid = input.paid.as_ref();
    let paid = paid.map(|text| paid_for(text, counted)).transpose()?;
    let mut notes = Vec::new();
    let Came { pieces, estimated } = Coming {
        context: desk.context,
        input,
        kind,
        sheet: &shape,
        paid,
    }
    .pieces(&mut notes)?;
    let estimated = estimated || is_about(input);
    let total = Quantity::sum(pieces.iter().copied())?;
    check_measured(input, counted, paid, total, really)?;
    notes.extend(difference(
        desk.context,
        input,
        Measure::of(kind, counted),
        (paid, total),
    ));
    let (price, about) = price(input, currency, paid)?;
    check_about(about, buy)?;
    let replacement = replacement(desk.context, input, price, counted, total)?;
    let owner = owner(desk, input, price)?;
    let keys = purchase::Line {
        price,
        length_um: match paid {
            Some(Paid::Length(length)) => Some(length.get()),
            _ if counted => None,
            _ => Some(total.get()),
        },
        mass_mg: mass(input, &shape, counted, paid, total)?.map(Milligrams::get),
        count: count_of(counted, input.paid.as_deref(), total.get()),
    };
    Ok(LineRead {
        material,
        sheet,
        counted,
        owner,
        pieces,
        estimated,
        total,
        rectangle,
        preparation: preparation(input)?,
        about,
        replacement,
        keys,
        notes,
    })
}

/// Refuses an estimate where an invoice says the price.
fn check_about(about: bool, buy: &Buy) -> Done<()> {
    if !about || buy.opening {
        return Ok(());
    }
    let detail = "an invoice says what it cost; only the value of opening stock is estimated";
    Err(Problem::from(invalid("price", detail))
        .hint("give the price, price=unknown, or log it with --opening")
        .into())
}

/// What was done to it before it came; nothing where that is nothing.
fn preparation(input: &LineInput) -> Done<Option<Preparation>> {
    let read = input.preparation.as_ref().map(|text| text.parse());
    let read: Option<Preparation> = read
        .transpose()
        .map_err(|error: ShrinkageError| invalid("preparation", error.to_string()))?;
    Ok(read.filter(|preparation| !preparation.is_nothing()))
}

/// Of thread as fine as another count, how much was on a reel says nothing of this one.
fn forget_reel_length(material: &Material, sheet: &mut Sheet, input: &LineInput) -> Done<()> {
    let typed = &input.material.sheet;
    if typed.yarn_count.is_some() && typed.reel_length.is_none() {
        let known = read_sheet(&material.sheet)?;
        if known.tex != sheet.tex {
            sheet.reel_length_m = None;
        }
    }
    Ok(())
}

pub(super) fn refuse(field: &str, error: &QuantityError) -> crate::desk::failure::Failure {
    invalid(field, error.to_string())
}

/// What was paid for. A length is nothing that counted things are paid by.
fn paid_for(text: &str, counted: bool) -> Done<Paid> {
    let (text, _) = about(text);
    if counted && text.parse::<Micrometres>().is_ok() {
        let detail = format!(
            "\"{text}\" is a length, but trims are counted unless the line has unit=length"
        );
        return Err(Problem::from(invalid("paid", detail))
            .hint("give the number, such as 12, or add unit=length")
            .into());
    }
    Paid::parse(text, counted).map_err(|error| refuse("paid", &error))
}

/// Number of things on a line, the key of charges shared by count: as paid for, else what is counted, else one.
pub(super) fn count_of(counted: bool, paid: Option<&str>, quantity: i64) -> i64 {
    let paid = paid.and_then(|text| Paid::parse(text, counted).ok());
    match paid {
        Some(Paid::Count(count)) => count.get(),
        _ if counted => quantity,
        _ => 1,
    }
}

/// The sheet as it is true of the pieces of this line: narrower than the lot where they are no full width.
fn shape(context: &Context<'_>, input: &LineInput, sheet: &Sheet) -> Done<Sheet> {
    let Some(text) = &input.width else {
        return Ok(sheet.clone());
    };
    let own: Micrometres = text.parse().map_err(|error| refuse("width", &error))?;
    let refused = |detail: String, hint: &str| -> crate::desk::failure::Failure {
        Problem::from(invalid("width", detail)).hint(hint).into()
    };
    let Some(full) = sheet.full_width_m else {
        let detail = "only cloth of a known full width can be narrower than that".to_owned();
        return Err(refused(
            detail,
            "did you mean full-width? width= is for half of one: full-width=140cm,width=70cm",
        ));
    };
    if own.is_zero() || own > full.0 {
        let (full, own) = full.0.show_beside(own, context.units());
        let detail = format!("{own} is no part of the full width of {full}");
        return Err(refused(
            detail,
            "width= is how wide the pieces are, at most as wide as the lot",
        ));
    }
    let mut shape = sheet.clone();
    shape.full_width_m = Some(Metres(own));
    let selvedges = sheet.selvedges_m.map(|of| Metres(of.0.min(own)));
    shape.selvedges_m = selvedges;
    Ok(shape)
}

/// True where what was paid for, measured or listed is not exactly known.
fn is_about(input: &LineInput) -> bool {
    let texts = input
        .paid
        .iter()
        .chain(&input.measured)
        .chain(&input.pieces);
    let mut known = texts.map(|text| about(text).1);
    match input.measured.is_some() || !input.pieces.is_empty() {
        // What was measured says more than what was paid for.
        true => known
            .skip(usize::from(input.paid.is_some()))
            .any(|about| about),
        false => known.any(|about| about),
    }
}

fn rectangle(sheet: &Sheet) -> Done<Rectangle> {
    let Some(full) = sheet.full_width_m else {
        let detail = "cloth and interlining need their full width, selvedge to selvedge";
        return Err(Problem::from(invalid("material.full_width", detail))
            .hint("measure it, for example 150cm")
            .into());
    };
    Ok(Rectangle {
        full: full.0,
        selvedges: sheet.selvedges_m.unwrap_or_default().0,
    })
}

/// Refuses a measured total that its pieces do not add up to, and much more than was paid for unless it is meant.
fn check_measured(
    input: &LineInput,
    counted: bool,
    paid: Option<Paid>,
    total: Quantity,
    really: bool,
) -> Done<()> {
    if let Some(text) = input.measured.as_ref().filter(|_| !input.pieces.is_empty())
        && there(counted, "measured", text)? != total
    {
        let detail = format!("\"{text}\" was measured, but the pieces do not add up to it");
        return Err(invalid("measured", detail)
            .with("measured", there(counted, "measured", text)?.get())
            .with("pieces", total.get()));
    }
    let paid: Option<Quantity> = match paid {
        Some(Paid::Length(length)) => Some(length.into()),
        Some(Paid::Count(count)) if counted => Some(count.into()),
        _ => None,
    };
    let much =
        paid.is_some_and(|paid| i128::from(total.get()) * 100 > i128::from(paid.get()) * 120);
    if much && !really {
        let detail = format!(
            "{} was paid for, and over 20 % more came",
            input.paid.as_deref().unwrap_or("")
        );
        let field = if input.pieces.is_empty() {
            "measured"
        } else {
            "pieces"
        };
        return Err(Problem::new(ProblemType::NeedsConfirmation, detail)
            .field(field)
            .hint("measure again; if it is right, confirm with --really")
            .with("paid", paid.map(Quantity::get))
            .with("found", total.get())
            .into());
    }
    Ok(())
}

/// A length or number that is there; more than zero.
pub(super) fn there(counted: bool, field: &str, text: &str) -> Done<Quantity> {
    let (text, _) = about(text);
    let quantity: Quantity = if counted {
        text.parse::<Count>()
            .map_err(|error| refuse(field, &error))?
            .into()
    } else {
        parse_length_down(text)
            .map_err(|error| refuse(field, &error))?
            .into()
    };
    if quantity.is_zero() {
        return Err(refuse(
            field,
            &QuantityError::NotPositive {
                text: text.to_owned(),
            },
        ));
    }
    Ok(quantity)
}

/// A short or generous delivery, with the numbers.
fn difference(
    context: &Context<'_>,
    input: &LineInput,
    measure: Measure,
    (paid, came): (Option<Paid>, Quantity),
) -> Option<String> {
    let paid: Quantity = match paid? {
        Paid::Length(length) => length.into(),
        Paid::Count(count) if measure == Measure::Count => count.into(),
        Paid::Count(_) | Paid::Mass(_) => return None,
    };
    let show = |quantity: Quantity| measure.show(context, quantity);
    let typed = input.paid.as_deref().unwrap_or_default().trim();
    let apart = |less: Quantity, word: &str| {
        format!(
            "{typed} paid for, {} came: {} {word}",
            show(came),
            show(less)
        )
    };
    match came.cmp(&paid) {
        std::cmp::Ordering::Less => Some(apart(paid.less(came), "short")),
        std::cmp::Ordering::Greater => Some(apart(came.less(paid), "more")),
        std::cmp::Ordering::Equal => None,
    }
}

/// Price of the line in minor units of the invoice, none where it is not known; and whether it was estimated.
fn price(input: &LineInput, currency: Currency, paid: Option<Paid>) -> Done<(Option<i64>, bool)> {
    let Some(text) = &input.price else {
        let detail = "the line has no price";
        return Err(Problem::from(invalid("price", detail))
            .hint("give it, price=0 for a gift, or price=unknown")
            .into());
    };
    let (text, about) = about(text);
    Ok((price_of(text, currency, paid)?, about))
}

/// A price as typed, of all of what was paid for; none for `unknown`.
pub(super) fn price_of(text: &str, currency: Currency, paid: Option<Paid>) -> Done<Option<i64>> {
    let refuse = |error: purchase::PriceError| invalid("price", error.to_string());
    let Some(price) = Price::parse_known(text, Some(currency)).map_err(refuse)? else {
        return Ok(None);
    };
    if price.currency() != currency {
        let detail = format!(
            "\"{text}\" is in {}; the invoice is in {currency}",
            price.currency()
        );
        return Err(invalid("price", detail));
    }
    if price.is_zero() {
        Ok(Some(0))
    } else {
        price.of(paid).map(Some).map_err(refuse)
    }
}

/// What it would cost to buy again; refused beside a price.
fn replacement(
    context: &Context<'_>,
    input: &LineInput,
    price: Option<i64>,
    counted: bool,
    total: Quantity,
) -> Done<Option<Replacement>> {
    let Some(text) = &input.replacement else {
        return Ok(None);
    };
    if price.is_some() {
        let detail = "a replacement price is for what has no price of its own";
        return Err(Problem::from(invalid("replacement", detail))
            .hint("leave it out, or give price=unknown")
            .into());
    }
    let refuse = |error: purchase::PriceError| invalid("replacement", error.to_string());
    let own = context.currency;
    let price = Price::parse(text, Some(own)).map_err(refuse)?;
    if price.currency() != own {
        let detail = format!("\"{text}\" is in {}: give it in {own}", price.currency());
        return Err(invalid("replacement", detail));
    }
    let replacement = Replacement::new(price, counted, total.get()).map_err(refuse)?;
    Ok(Some(replacement))
}

/// The customer who brought it; what they own costs nothing.
fn owner(tx: &mut Tx<'_>, input: &LineInput, price: Option<i64>) -> Done<Option<i64>> {
    let Some(text) = &input.owner else {
        return Ok(None);
    };
    if price != Some(0) {
        let detail = format!("the cloth belongs to {}, so it has no price", text.trim());
        return Err(Problem::from(invalid("price", detail))
            .hint("give 0, or leave the owner out")
            .into());
    }
    let customer = find_or_make_customer(tx, text).map_err(|failure| match failure {
        crate::desk::failure::Failure::Refused(problem) => problem.field("owner").into(),
        stopped @ crate::desk::failure::Failure::Storage(_) => stopped,
    })?;
    Ok(Some(customer.id))
}

/// Mass of the line: as typed, as paid for, or by its length.
fn mass(
    input: &LineInput,
    sheet: &Sheet,
    counted: bool,
    paid: Option<Paid>,
    total: Quantity,
) -> Done<Option<Milligrams>> {
    if let Some(text) = &input.mass {
        let mass: Milligrams = text.parse().map_err(|error| refuse("mass", &error))?;
        if mass == Milligrams::ZERO {
            return Err(refuse(
                "mass",
                &QuantityError::NotPositive { text: text.clone() },
            ));
        }
        return Ok(Some(mass));
    }
    if let Some(Paid::Mass(mass)) = paid {
        return Ok(Some(mass));
    }
    if counted {
        return Ok(None);
    }
    let length = Micrometres::new(total.get())?;
    if let Some(count) = sheet.count() {
        return Ok(thread::mass_of_thread(length, count).ok());
    }
    let known = sheet.full_width_m.zip(sheet.mass_gsm);
    Ok(known.and_then(|(full, mass)| cloth::mass_of(length, full.0, mass.0).ok()))
}
