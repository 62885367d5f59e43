"""Pages of stations and tools (``stations``), build sheets (``sheets``) and parts (``parts``)."""
