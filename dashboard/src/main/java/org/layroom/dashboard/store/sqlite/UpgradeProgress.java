package org.layroom.dashboard.store.sqlite;

import org.tinylog.Logger;

/** Hears how far the upgrade of a store has come. */
public interface UpgradeProgress {
  /** Into the log. */
  UpgradeProgress LOG =
      (what, done, of) ->
          Logger.info("Upgrading the store, {}: {} %", what, of == 0 ? 100 : done * 100 / of);

  /**
   * Called before each step and after the last, also while a step is not committed yet.
   *
   * @param what is being done, in words
   * @param done how much of it is done
   * @param of how much there is to do
   */
  void at(String what, long done, long of);
}
