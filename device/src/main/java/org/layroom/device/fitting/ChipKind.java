package org.layroom.device.fitting;

import java.util.List;

/** One kind of chip that Layroom knows: an entry of the {@link ChipCatalog}. */
public interface ChipKind {
  /** As its maker calls it, such as {@code SHT4x}; once in a catalog. */
  String name();

  /** Names of the series that its sensor may give; of a mold's, without the mold. */
  List<String> gives();

  /** Where it is looked for, in words, such as {@code at 0x44 or 0x45}. */
  String where();
}
