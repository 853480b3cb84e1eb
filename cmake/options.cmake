# Compiler settings shared by every target, through the interface target drawoff_options.
add_library(drawoff_options INTERFACE)
target_include_directories(drawoff_options INTERFACE ${CMAKE_SOURCE_DIR}/src)
# One numeric truth: no fused multiply-add behind our back, no vector code whose sums reorder.
target_compile_options(drawoff_options INTERFACE -ffp-contract=off)
target_compile_definitions(
  drawoff_options INTERFACE EIGEN_DONT_VECTORIZE EIGEN_NO_DEBUG FMT_HEADER_ONLY JSON_NOEXCEPTION
                            JSON_USE_IMPLICIT_CONVERSIONS=0)
if(DRAWOFF_DEVELOPER)
  target_compile_options(
    drawoff_options INTERFACE -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wno-sign-conversion
                              -Wno-missing-field-initializers
                              -Werror)
endif()
if(DRAWOFF_SANITIZE)
  target_compile_options(
    drawoff_options INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all
                              -fno-omit-frame-pointer)
  target_link_options(drawoff_options INTERFACE -fsanitize=address,undefined)
endif()
if(DRAWOFF_FUZZ)
  target_compile_options(drawoff_options INTERFACE -fsanitize=fuzzer-no-link)
  target_link_options(drawoff_options INTERFACE -fsanitize=fuzzer-no-link)
endif()

# The engine is built without exceptions, natively too: errors are values. What tests it throws.
function(drawoff_engine target)
  target_link_libraries(${target} PUBLIC drawoff_options)
  target_compile_options(${target} PRIVATE -fno-exceptions)
endfunction()

# Library headers that most files read, parsed once; each file still includes what it uses, which
# clang-tidy sees (it reads the files without these). The first target of a group holds them.
function(drawoff_precompile target group)
  get_property(first GLOBAL PROPERTY drawoff_precompiled_${group})
  if(first)
    target_precompile_headers(${target} REUSE_FROM ${first})
  else()
    target_precompile_headers(${target} PRIVATE ${ARGN})
    set_property(GLOBAL PROPERTY drawoff_precompiled_${group} ${target})
  endif()
endfunction()
set(drawoff_common_headers <algorithm> <array> <cmath> <fmt/format.h> <memory> <nlohmann/json.hpp>
                           <optional> <span> <string> <string_view> <utility> <vector>)

# Third-party headers are system headers: their warnings are not ours.
if(EMSCRIPTEN)
  # /usr/include holds glibc too: only the wanted header folders are linked into the build folder.
  set(wasm_include ${CMAKE_BINARY_DIR}/include)
  file(MAKE_DIRECTORY ${wasm_include})
  foreach(folder boost fmt nlohmann)
    file(CREATE_LINK /usr/include/${folder} ${wasm_include}/${folder} SYMBOLIC)
  endforeach()
  file(CREATE_LINK /usr/include/eigen3/Eigen ${wasm_include}/Eigen SYMBOLIC)
  target_include_directories(drawoff_options SYSTEM INTERFACE ${wasm_include})
else()
  target_include_directories(drawoff_options SYSTEM INTERFACE /usr/include/eigen3)
endif()
