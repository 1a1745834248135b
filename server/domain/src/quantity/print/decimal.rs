//! Integers as decimals with a fixed scale, and back.

use crate::quantity::QuantityError;

/// `units / 10^scale` as an exact decimal; trailing zeros are left out down to `keep` decimals.
pub(crate) fn decimal(units: i64, scale: u32, keep: u32) -> String {
    let width = usize::try_from(scale.saturating_add(1)).unwrap_or(1);
    let mut digits = format!("{:0width$}", units.unsigned_abs());
    let point = digits
        .len()
        .saturating_sub(usize::try_from(scale).unwrap_or(0));
    let mut part = digits.split_off(point);
    while part.ends_with('0') && part.len() > usize::try_from(keep).unwrap_or(0) {
        part.pop();
    }
    let sign = if units < 0 { "-" } else { "" };
    if part.is_empty() {
        format!("{sign}{digits}")
    } else {
        format!("{sign}{digits}.{part}")
    }
}

/// Reads an exact decimal of the wire: digits, at most one point, at most `scale` decimals, a minus in front.
pub(crate) fn from_decimal(
    text: &str,
    scale: u32,
    unit: &str,
    example: &'static str,
) -> Result<i64, QuantityError> {
    let unreadable = || QuantityError::Unreadable {
        text: text.to_owned(),
        expected: "a decimal number",
        example,
    };
    let size = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = size.split_once('.').unwrap_or((size, "0"));
    let sound = |digits: &str| !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
    if !sound(whole) || !sound(part) {
        return Err(unreadable());
    }
    let missing = usize::try_from(scale)
        .ok()
        .and_then(|scale| scale.checked_sub(part.len()));
    let Some(missing) = missing.or(if size.contains('.') { None } else { Some(0) }) else {
        return Err(QuantityError::TooManyDigits {
            text: text.to_owned(),
            unit: unit.to_owned(),
            digits: scale,
        });
    };
    let part = if scale == 0 { "" } else { part };
    let units = format!("{whole}{part}{}", "0".repeat(missing)).parse::<i64>();
    let units = units.map_err(|_| QuantityError::TooLarge {
        text: text.to_owned(),
        limit: "9 223 372 036 854 775 807 of the smallest unit",
    })?;
    Ok(if text.starts_with('-') {
        units.saturating_neg()
    } else {
        units
    })
}
