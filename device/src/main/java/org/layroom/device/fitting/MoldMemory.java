package org.layroom.device.fitting;

import java.util.Optional;

/**
 * Which thermometer was taken for the mold's while it was the only one and nobody had named it: so
 * that another one is not taken for it when it is missing at a start.
 */
public interface MoldMemory {
  Optional<String> id();

  void remember(String id);

  /** Remembers as long as the program runs. */
  static MoldMemory forgetful() {
    return new MoldMemory() {
      private Optional<String> known = Optional.empty();

      @Override
      public Optional<String> id() {
        return known;
      }

      @Override
      public void remember(String id) {
        known = Optional.of(id);
      }
    };
  }
}
