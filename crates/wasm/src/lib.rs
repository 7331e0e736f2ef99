//! Thin bindings of the core for the browser.
