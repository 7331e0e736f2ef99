//! Set-up, serving and testing.
fn main() {}
