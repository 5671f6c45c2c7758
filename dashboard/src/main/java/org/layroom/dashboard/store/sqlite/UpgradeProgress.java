package org.layroom.dashboard.store.sqlite;

import org.tinylog.Logger;

/** Hears how far the upgrade of a store has come. */
public interface UpgradeProgress {
  /** Into the log, a line for each tenth. */
  static UpgradeProgress toLog() {
    return new UpgradeProgress() {
      private String last = "";

      @Override
      public void at(String what, long done, long of) {
        String line = what + ": " + (of == 0 ? 100 : done * 10 / of * 10) + " %";
        if (!line.equals(last)) {
          Logger.info("Upgrading the store, {}", line);
          last = line;
        }
      }
    };
  }

  /**
   * Called before each step and after the last, also while a step is not committed yet.
   *
   * @param what is being done, in words
   * @param done how much of it is done
   * @param of how much there is to do
   */
  void at(String what, long done, long of);
}
