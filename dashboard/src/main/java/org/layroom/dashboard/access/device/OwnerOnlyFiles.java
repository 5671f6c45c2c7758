package org.layroom.dashboard.access.device;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributeView;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.EnumSet;
import java.util.Set;
import org.layroom.device.files.WholeFile;
import org.tinylog.Logger;

/**
 * Files for their owner alone, from their first byte on, and never half written; and rights that
 * somebody has loosened tightened again.
 */
public final class OwnerOnlyFiles {
  private static final Set<PosixFilePermission> FOR_OTHERS =
      PosixFilePermissions.fromString("------rwx");

  private static final Set<PosixFilePermission> FOR_GROUP_AND_OTHERS =
      PosixFilePermissions.fromString("---rwxrwx");

  private OwnerOnlyFiles() {}

  /**
   * Makes a folder for its owner alone. One that is there is closed to all others, and so is every
   * file in it.
   *
   * @throws IOException when that is not allowed; says what to do
   */
  public static void folder(Path folder) throws IOException {
    if (!Files.isDirectory(folder)) {
      Files.createDirectories(folder.toAbsolutePath().getParent());
      Files.createDirectory(folder, WholeFile.folderForOwnerOnly());
      return;
    }
    close(folder, FOR_GROUP_AND_OTHERS);
    try (DirectoryStream<Path> files = Files.newDirectoryStream(folder)) {
      for (Path file : files) {
        if (Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
          close(file, FOR_GROUP_AND_OTHERS);
        }
      }
    }
  }

  /**
   * Closes a key or password that the settings name to those outside its owner and group.
   *
   * @throws IOException when it is open to every user of this machine and stays so; says what to do
   */
  public static void secret(Path file) throws IOException {
    if (Files.isRegularFile(file)) {
      close(file, FOR_OTHERS);
    }
  }

  private static void close(Path file, Set<PosixFilePermission> to) throws IOException {
    PosixFileAttributeView view = Files.getFileAttributeView(file, PosixFileAttributeView.class);
    if (view == null) {
      return; // this file system has no such rights
    }
    Set<PosixFilePermission> rights = view.readAttributes().permissions();
    Set<PosixFilePermission> kept = EnumSet.copyOf(rights);
    if (!kept.removeAll(to)) {
      return;
    }
    try {
      view.setPermissions(kept);
      Logger.warn("{} was open to other users of this machine; it is closed now", file);
    } catch (IOException e) {
      throw new IOException(
          file + " is open to other users of this machine: run chmod go-rwx " + file, e);
    }
  }

  /** Writes a file whole, or leaves the one before it as it is. */
  public static void write(Path file, String text) throws IOException {
    write(file, text.getBytes(StandardCharsets.UTF_8));
  }

  /** Writes a file whole, or leaves the one before it as it is. */
  public static void write(Path file, byte[] content) throws IOException {
    WholeFile.replacePrivate(file, content);
  }
}
