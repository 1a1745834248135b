//! Starter files that `--example` prints: each can be planned or logged as it stands.

/// Plans, by name.
pub const PLANS: [(&str, &str); 3] = [
    ("shirt", include_str!("examples/shirt.toml")),
    ("coat", include_str!("examples/coat.toml")),
    ("apron", include_str!("examples/apron.toml")),
];

/// A purchase.
pub const PURCHASE: &str = include_str!("examples/purchase.toml");
