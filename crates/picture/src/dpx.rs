//! What a DPX file is made of, for reader and writer: SMPTE ST 268-1, file format for digital
//! moving-picture exchange. Offsets are those of its header tables, in bytes.

/// The first four bytes of a file whose words have the high byte first.
pub(crate) const MAGIC: &[u8; 4] = b"SDPX";
/// The same with the low byte first.
pub(crate) const MAGIC_SWAPPED: &[u8; 4] = b"XPDS";

/// Generic, industry-specific and all headers.
pub(crate) const GENERIC_BYTES: u32 = 1664;
pub(crate) const INDUSTRY_BYTES: u32 = 384;
pub(crate) const HEADER_BYTES: usize = (GENERIC_BYTES + INDUSTRY_BYTES) as usize;

/// Where a header's fields stand.
pub(crate) mod at {
    /// Where the picture begins.
    pub(crate) const IMAGE: usize = 4;
    /// Eight characters.
    pub(crate) const VERSION: usize = 8;
    pub(crate) const FILE_BYTES: usize = 16;
    pub(crate) const GENERIC: usize = 24;
    pub(crate) const INDUSTRY: usize = 28;
    /// A hundred characters.
    pub(crate) const CREATOR: usize = 160;
    /// Two hundred characters.
    pub(crate) const PROJECT: usize = 260;
    /// All bits set: nothing is encrypted.
    pub(crate) const ENCRYPTION: usize = 660;
    pub(crate) const ORIENTATION: usize = 768;
    pub(crate) const ELEMENTS: usize = 770;
    pub(crate) const WIDTH: usize = 772;
    pub(crate) const HEIGHT: usize = 776;
    /// The first of eight image elements.
    pub(crate) const ELEMENT: usize = 780;
    /// Pixel aspect, horizontal and vertical.
    pub(crate) const ASPECT: usize = 1628;
    /// Frames a second, a float, of the film header.
    pub(crate) const FILM_RATE: usize = 1724;
    /// Of the television header.
    pub(crate) const TIME_CODE: usize = 1920;
    pub(crate) const USER_BITS: usize = 1924;
    /// Frames a second, a float.
    pub(crate) const TELEVISION_RATE: usize = 1940;
}

/// Where the fields of an image element stand in it.
pub(crate) mod element {
    pub(crate) const SIGN: usize = 0;
    pub(crate) const LOW_QUANTITY: usize = 8;
    pub(crate) const HIGH_CODE: usize = 12;
    pub(crate) const HIGH_QUANTITY: usize = 16;
    pub(crate) const DESCRIPTOR: usize = 20;
    pub(crate) const TRANSFER: usize = 21;
    pub(crate) const COLORIMETRIC: usize = 22;
    pub(crate) const BITS: usize = 23;
    pub(crate) const PACKING: usize = 24;
    pub(crate) const ENCODING: usize = 26;
    pub(crate) const DATA: usize = 28;
    pub(crate) const LINE_PADDING: usize = 32;
}

/// Image element descriptors that are read.
pub(crate) mod descriptor {
    pub(crate) const LUMA: u8 = 6;
    pub(crate) const RGB: u8 = 50;
    pub(crate) const RGBA: u8 = 51;
    pub(crate) const ABGR: u8 = 52;
}

/// Transfer characteristics, and colorimetric specifications of the same numbers.
pub(crate) mod transfer {
    pub(crate) const USER: u8 = 0;
    pub(crate) const PRINTING_DENSITY: u8 = 1;
    pub(crate) const LINEAR: u8 = 2;
    pub(crate) const BT709: u8 = 6;
    /// ST 2065-3; the number is from memory of the standard's later edition.
    pub(crate) const ADX: u8 = 13;
}

/// How codes lie in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Packing {
    /// One after the other through words of 32 bits, from the lowest bit up.
    Packed,
    /// Padded at the low end of a word.
    FilledA,
    /// Padded at the high end of a word.
    FilledB,
}
