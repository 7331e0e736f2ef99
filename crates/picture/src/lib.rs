//! Reading and writing pictures: bytes to pixels and back.
