# The sheet of a pour. Paths from solver/.
set(SANDFREEZE_POURING_SOURCES
  pouring/filling_section.cpp
  pouring/flask_section.cpp
  pouring/flow.cpp
  pouring/holding.cpp
  pouring/lifting.cpp
  pouring/metal.cpp
  pouring/metal_section.cpp
  pouring/modulus_rule.cpp
  pouring/mould_scan.cpp
  pouring/pattern_section.cpp
  pouring/sand_section.cpp
  pouring/sheet.cpp
  pouring/times_section.cpp)
