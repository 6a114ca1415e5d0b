# What the freeze times mean. Paths from solver/.
set(SANDFREEZE_FEEDING_SOURCES
  feeding/analysis.cpp
  feeding/bodies.cpp
  feeding/checks.cpp
  feeding/chills.cpp
  feeding/detours.cpp
  feeding/distance.cpp
  feeding/evidence.cpp
  feeding/feeders.cpp
  feeding/gate_facts.cpp
  feeding/gates.cpp
  feeding/hot_spots.cpp
  feeding/metal.cpp
  feeding/parts.cpp
  feeding/regions.cpp
  feeding/sentences.cpp
  feeding/ways.cpp)
