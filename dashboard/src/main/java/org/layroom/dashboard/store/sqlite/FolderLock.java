package org.layroom.dashboard.store.sqlite;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.layroom.dashboard.store.StoreFailure;

/** A lock file, so that two dashboards never share a data folder. */
public final class FolderLock implements AutoCloseable {
  private final Path folder;
  private final FileChannel channel;

  private FolderLock(Path folder, FileChannel channel) {
    this.folder = folder;
    this.channel = channel;
  }

  /**
   * Locks a folder, which is made when missing.
   *
   * @throws StoreFailure when another dashboard uses it, or this user may not write there
   */
  public static FolderLock take(Path folder) {
    try {
      Files.createDirectories(folder);
      FileChannel channel =
          FileChannel.open(
              folder.resolve("layroom.lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
      try {
        FileLock lock = channel.tryLock();
        if (lock != null) {
          return new FolderLock(folder, channel);
        }
      } catch (OverlappingFileLockException e) {
        channel.close();
        throw inUse(folder);
      }
      channel.close();
      throw inUse(folder);
    } catch (IOException e) {
      throw new StoreFailure(
          "The data folder "
              + folder
              + " cannot be used: "
              + e
              + ". Check that it exists and that this user may write there.",
          e);
    }
  }

  private static StoreFailure inUse(Path folder) {
    return new StoreFailure(
        "The data folder "
            + folder
            + " is in use by another running dashboard. Stop that one, or set \"data\" to"
            + " another folder.");
  }

  /** The locked folder. */
  public Path folder() {
    return folder;
  }

  @Override
  public void close() {
    try {
      channel.close();
    } catch (IOException e) {
      throw new StoreFailure("Cannot release the lock on the data folder", e);
    }
  }
}
