"""Topics of rules that the checks and the briefs ask of every standard that binds.

The handbook holds more: topics on which the house rule alone is asked, and what was noted
for later. A keeper whose own file has a rule on such a topic is told that nobody asks it.
"""

ASKED_OF_ALL = frozenset(
    {
        *("bar_gap_rule", "base_barrier", "bath", "bath_depth_high_mm", "bath_depth_low_mm"),
        *("bath_diameter_spans", "bath_wider_than_bird_is_long", "both_mews_and_weathering"),
        *("clear_space", "dig_depth_mm", "doors_min", "entry", "flight_interval_days_max"),
        *("floor_avoid", "floor_gravel_mm", "gap_max_mm", "lamp_shielding", "light", "mesh_kind"),
        *("mesh_max_mm", "open_weathering", "other_animals", "outdoor_enclosure", "partition"),
        *("perch_cover", "perch_cover_forbidden", "perch_height_mm", "perch_near_window_min"),
        *("perch_surface", "perch_under_cover_min", "perches_min", "public_barrier"),
        *("quarantine_days", "rain_or_mist", "routine_tether_end", "shelter_capacity"),
        *("show_exemption_hours_max", "solid_corners_min", "solid_roof_fraction"),
        *("solid_sides_min", "straw_and_hay", "tether", "tether_hours_max"),
        *("tether_weekly_flight_lifts_limit", "water_pan", "weasel_gap_mm"),
        *("weathering_roof_height_mm", "weekly_flights_min", "welded_mesh_max_mm", "windows_min"),
    }
)
