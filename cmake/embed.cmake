# drawoff_embed(target FILES...): makes each data file readable as a string_view, without a disk.
#
# data/species.csv becomes drawoff::data::file("species.csv"). The phone has no files of ours, and
# the command needs none beside it.
function(drawoff_embed target)
  set(source ${CMAKE_CURRENT_BINARY_DIR}/${target}.cc)
  set(files ${ARGN})
  add_custom_command(
    OUTPUT ${source}
    COMMAND ${CMAKE_COMMAND} -DOUTPUT=${source} -DROOT=${CMAKE_CURRENT_SOURCE_DIR} "-DFILES=${files}"
            "-DPHONE=$<BOOL:${EMSCRIPTEN}>" -P ${CMAKE_SOURCE_DIR}/cmake/embed_files.cmake
    DEPENDS ${files} ${CMAKE_SOURCE_DIR}/cmake/embed_files.cmake
    VERBATIM)
  add_library(${target} STATIC ${source})
  drawoff_engine(${target})
  # Longer than a portable literal need be, which both compilers take.
  target_compile_options(${target} PRIVATE -Wno-overlength-strings)
endfunction()
