//! Fixed handles of what every file has.

pub(super) const BLOCK_RECORDS: u32 = 0x1;
pub(super) const LAYERS: u32 = 0x2;
pub(super) const STYLES: u32 = 0x3;
pub(super) const LINE_TYPES: u32 = 0x5;
pub(super) const VIEWS: u32 = 0x6;
pub(super) const COORDINATE_SYSTEMS: u32 = 0x7;
pub(super) const VIEWPORTS: u32 = 0x8;
pub(super) const APPLICATIONS: u32 = 0x9;
pub(super) const DIMENSION_STYLES: u32 = 0xA;
pub(super) const ROOT: u32 = 0xC;
pub(super) const GROUPS: u32 = 0xD;
pub(super) const LAYOUTS: u32 = 0xE;
pub(super) const MODEL_RECORD: u32 = 0x20;
/// The first paper's; those of other papers follow it.
pub(super) const PAPER_RECORDS: u32 = 0x30;
/// From the record of one paper to that of the next.
pub(super) const OF_PAPER: u32 = 4;
/// Two entities and a layout follow the record of the model and that of each paper.
pub(super) const BEGIN: u32 = 1;
pub(super) const END: u32 = 2;
pub(super) const LAYOUT: u32 = 3;
pub(super) const SMALL_THINGS: u32 = 0x800;
/// Layers and entities start here.
pub(super) const FIRST_OF_NAMES: u32 = 0x1000;
