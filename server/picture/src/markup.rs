//! Writing SVG.

use std::fmt::{Arguments, Write};

/// Adds a line.
pub fn add(svg: &mut String, line: Arguments<'_>) {
    // Writing to a text does not fail.
    let _ = svg.write_fmt(line);
    svg.push('\n');
}

/// Text as XML holds it.
pub fn escape(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).fold(
        String::with_capacity(text.len()),
        |mut out, c| {
            match c {
                '&' => out.push_str("&amp;"),
                '<' => out.push_str("&lt;"),
                '>' => out.push_str("&gt;"),
                '"' => out.push_str("&quot;"),
                c => out.push(c),
            }
            out
        },
    )
}

/// Tenths of a pixel as SVG has them: `12.5`.
pub fn px(tenths: i64) -> String {
    let sign = if tenths < 0 { "-" } else { "" };
    format!("{sign}{}.{}", tenths.abs() / 10, tenths.abs() % 10)
}
