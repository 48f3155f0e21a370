//! What results are not, and who decides: said with every result that people could get hurt by.

/// What the findings are and who decides.
pub const CHECK: &str = "Caution: these findings hold the plan against prescriptive rules of the model code (IRC, edition and section \
     named beside each), as far as they are known here. Nothing was looked at where it says not checked. Local amendments, the building \
     department and its inspector decide, and beyond the prescriptive rules a licensed professional.";

/// What stands under every comparison.
pub const COMPARE: &str = "Caution: what is shown met the prescriptive rules that stepoff check knows, framed in full; less lumber is less in \
     reserve. Prices are those of the file. Local code and the building department decide, and beyond the prescriptive \
     rules a licensed professional does: run stepoff check on the roof that is chosen.";

/// The caution that stands under every result about structure and cutting.
pub const RAFTER: &str = "Caution: these are lengths and prescriptive notch, bearing and tail rules of the model code \
     (IRC 2015 to 2024); spans, ties, uplift and snow are not decided here. The local code and \
     the building department decide, and beyond the prescriptive rules a licensed professional.";

/// What stands under every page of measured walls.
pub const MEASURED: &str = "Caution: the rafters fit the walls as they were measured; measure again what is doubted before anything is cut. A \
     wall that has moved may be a wall that is not held: find out why before it is pushed. Packing and moved plates \
     change bearing, bracing and anchors, which local code and a licensed professional decide.";

/// What stands under every order.
pub const ORDER: &str = "Caution: counts follow the frame as drawn, the model code's fastening schedule and figures of common \
     practice, as each line says; local code and the makers' instructions decide. Nothing here says that the roof \
     carries its loads: stepoff check and a licensed professional do.";

/// What stands under every map.
pub const SHEATHING: &str = "Caution: this is a cutting and laying plan under the rules named here, with panels of actual \
     size; it checks no load. Span ratings and edge support are those of the model code's table (IRC 2015 to 2024); \
     nailing, loads and local code are decided elsewhere, by the building department or a licensed professional.";

/// What the figures are and who decides.
pub const SPANS: &str = "Caution: prescriptive spans of the model code (IRC 2015 to 2024) for uniform loads on simple \
     spans, with ceiling joists or rafter ties at the plate; formulas beside them and beyond. Design values come from \
     memory, held to the printed cells (docs/sources.md). Local amendments and the building department decide, and beyond \
     the prescriptive rules a licensed professional.";
