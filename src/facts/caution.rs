//! What results do not cover, and who decides: printed with every result that could hurt people if
//! misused.

/// What the findings are and who decides.
pub const CHECK: &str = "Caution: these findings hold the plan against prescriptive rules of the model code (IRC, edition and section \
     named beside each), as far as they are known here. Nothing was looked at where it says not checked. Local amendments, the building \
     department and its inspector decide, and beyond the prescriptive rules a licensed professional.";

/// The caution under every comparison.
pub const COMPARE: &str = "Caution: what is shown met the prescriptive rules that stepoff check knows, framed in full; less lumber is less in \
     reserve. Prices are those of the file. Local code and the building department decide, and beyond the prescriptive \
     rules a licensed professional does: run stepoff check on the roof that is chosen.";

/// The caution under every result on structure and cutting.
pub const RAFTER: &str = "Caution: these are lengths and prescriptive notch, bearing and tail rules of the model code \
     (IRC 2015 to 2024); spans, ties, uplift and snow are not decided here. The local code and \
     the building department decide, and beyond the prescriptive rules a licensed professional.";

/// The caution under every page of measured walls.
pub const MEASURED: &str = "Caution: the rafters fit the walls as they were measured; measure again what is doubted before anything is cut. A \
     wall that has moved may be a wall that is not held: find out why before it is pushed. Packing and moved plates \
     change bearing, bracing and anchors, which local code and a licensed professional decide.";

/// The caution under every order.
pub const ORDER: &str = "Caution: counts follow the frame as drawn, the model code's fastening schedule and figures of common \
     practice, as each line says; local code and the makers' instructions decide. Nothing here says that the roof \
     carries its loads: stepoff check and a licensed professional do.";

/// The caution under every map.
pub const SHEATHING: &str = "Caution: this is a cutting and laying plan under the rules named here, with panels of actual \
     size; it checks no load. Span ratings and edge support are those of the model code's table (IRC 2015 to 2024); \
     nailing, loads and local code are decided elsewhere, by the building department or a licensed professional.";

/// What the figures are and who decides.
pub const SPANS: &str = "Caution: prescriptive spans of the model code (IRC 2015 to 2024) for uniform loads on simple \
     spans, with ceiling joists or rafter ties at the plate; formulas beside them and beyond. Design values come from \
     memory, held to the printed cells (docs/sources.md). Local amendments and the building department decide, and beyond \
     the prescriptive rules a licensed professional.";

/// [`CHECK`] in two lines.
pub const CHECK_IN_SHORT: &str = "Caution: only the IRC rules named were looked at. The building department decides, and beyond the \
     prescriptive rules a licensed professional.";

/// [`COMPARE`] in two lines.
pub const COMPARE_IN_SHORT: &str = "Caution: less lumber is less in reserve. Run stepoff check on the roof you choose; local code decides, and \
     beyond it a licensed professional.";

/// [`RAFTER`] in two lines.
pub const RAFTER_IN_SHORT: &str = "Caution: lengths and the IRC's notch, bearing and tail rules only; spans, ties and uplift are for stepoff check, \
     and local code decides.";

/// [`MEASURED`] in two lines.
pub const MEASURED_IN_SHORT: &str = "Caution: measure again what is in doubt before you cut. A wall that has moved may not be held: find out why \
     before you push it.";

/// [`ORDER`] in two lines.
pub const ORDER_IN_SHORT: &str = "Caution: counts follow the frame as drawn. Nothing here says that the roof carries its loads: run stepoff \
     check; local code decides.";

/// [`SHEATHING`] in two lines.
pub const SHEATHING_IN_SHORT: &str = "Caution: this laying plan checks no load; local code and the panel's maker decide. Tie off before you work on \
     the deck.";

/// [`SPANS`] in two lines.
pub const SPANS_IN_SHORT: &str = "Caution: for uniform loads on simple spans, with joists or ties at the plate. Local code decides, and beyond it \
     a licensed professional.";

/// For roofs that are more than one gable.
pub const ANY_ROOF: &str = "Caution: lengths and cuts only; no rule of the code is looked at here, and of such a roof stepoff check knows a part of them. \
     Ties, uplift, wind and snow, and what carries hips, valleys and dormers are for a licensed designer and the local code. Check the first hip, valley and jack on \
     the walls before you cut the rest, and brace the frame as it goes up.";
/// The same, short.
pub const ANY_ROOF_IN_SHORT: &str = "Caution: lengths and cuts only; of such a roof stepoff check knows a part of the rules. A licensed designer and local code decide.";
