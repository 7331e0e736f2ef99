//! The command line as a person types it: what it writes, what it says, and how it ends.

mod bad_input;
mod batch;
mod bench;
mod check;
mod encodings;
mod licences;
mod new;
mod pack;
mod pipe;
mod plate;
mod render;
mod safety;
mod sequence;
mod still;
mod table;
mod trace;
