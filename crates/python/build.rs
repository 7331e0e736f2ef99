//! Lets macOS's linker leave Python's own symbols to the interpreter.

fn main() {
    pyo3_build_config::add_extension_module_link_args();
}
