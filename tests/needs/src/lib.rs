//! Marks the tests that need something of the machine, so that they are reported as ignored where it is missing. A test
//! cannot be ignored at run time, and a build script would build its whole package anew whenever the variable changed.

use proc_macro::TokenStream;

/// The test runs where this variable of the environment is set when it is compiled, and is ignored elsewhere:
/// `#[needs::variable(TEST_DATABASE_URL)]` above `#[test]`.
#[proc_macro_attribute]
pub fn variable(name: TokenStream, test: TokenStream) -> TokenStream {
    let name = name.to_string();
    #[expect(clippy::disallowed_methods, reason = "a setting of the tests")]
    let is_set = std::env::var_os(&name).is_some_and(|value| !value.is_empty());
    let ignored = if is_set {
        String::new()
    } else {
        format!("#[ignore = \"needs {name}\"]")
    };
    // `option_env!` lets cargo know of the variable: the test program alone is compiled anew when it changes.
    let marked = format!("const _: Option<&str> = option_env!(\"{name}\"); {ignored}");
    let mut tokens: TokenStream = marked.parse().expect("an item and an attribute");
    tokens.extend(test);
    tokens
}
