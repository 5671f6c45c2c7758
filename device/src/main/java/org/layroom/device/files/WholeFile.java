package org.layroom.device.files;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.FileOwnerAttributeView;
import java.nio.file.attribute.PosixFilePermissions;
import java.nio.file.attribute.UserPrincipal;
import java.util.Optional;
import java.util.Set;

/**
 * Replaces a small file as a whole, in the order that POSIX file systems ask for: write beside it,
 * sync the content, rename over it, sync the folder. When {@code replace} has returned, the new
 * file survives a power cut; when it throws, the old one stands as it was. The fresh file is {@code
 * NAME.new} in the same folder and always made anew: what lies there, a link too, is removed and
 * never written through. Two writers of one file must take turns.
 */
public final class WholeFile {
  private static final boolean POSIX =
      FileSystems.getDefault().supportedFileAttributeViews().contains("posix");

  private WholeFile() {}

  /** Replaces a file that others may read as far as the process's umask lets them. */
  public static void replace(Path file, byte[] content) throws IOException {
    replace(file, content, Optional.empty());
  }

  /** Replaces a file that its owner alone may read and write, from its first byte on. */
  public static void replacePrivate(Path file, byte[] content) throws IOException {
    replace(file, content, Optional.empty(), forOwnerOnly());
  }

  /**
   * Replaces a file that its owner alone may read and write, from its first byte on.
   *
   * @param owner who owns it before it takes its place; to name another than oneself takes root
   */
  public static void replacePrivate(Path file, byte[] content, UserPrincipal owner)
      throws IOException {
    replace(file, content, Optional.of(owner), forOwnerOnly());
  }

  /**
   * The attribute that makes a folder for its owner alone; nothing where there is no such thing.
   */
  public static FileAttribute<?>[] folderForOwnerOnly() {
    return attributes("rwx------");
  }

  private static FileAttribute<?>[] forOwnerOnly() {
    return attributes("rw-------");
  }

  private static FileAttribute<?>[] attributes(String permissions) {
    return POSIX
        ? new FileAttribute<?>[] {
          PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions))
        }
        : new FileAttribute<?>[0];
  }

  private static void replace(
      Path file, byte[] content, Optional<UserPrincipal> owner, FileAttribute<?>... attributes)
      throws IOException {
    Path fresh = file.resolveSibling(file.getFileName() + ".new");
    Files.deleteIfExists(fresh);
    try {
      write(fresh, content, attributes);
      if (owner.isPresent()
          && !Files.getOwner(fresh, LinkOption.NOFOLLOW_LINKS).equals(owner.get())) {
        own(fresh, owner.get());
      }
      Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException e) {
      discard(fresh, e);
      throw e;
    }
    forceFolder(file);
  }

  private static void write(Path fresh, byte[] content, FileAttribute<?>... attributes)
      throws IOException {
    try (FileChannel channel =
        FileChannel.open(
            fresh, Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE), attributes)) {
      ByteBuffer bytes = ByteBuffer.wrap(content);
      while (bytes.hasRemaining()) {
        channel.write(bytes);
      }
      channel.force(true);
    }
  }

  /**
   * Whoever owns the folder may put a link there meanwhile: what it leads to is not handed over.
   */
  private static void own(Path fresh, UserPrincipal owner) throws IOException {
    FileOwnerAttributeView view =
        Files.getFileAttributeView(fresh, FileOwnerAttributeView.class, LinkOption.NOFOLLOW_LINKS);
    if (view == null) {
      throw new IOException(fresh + ": this file system keeps no owners");
    }
    view.setOwner(owner);
  }

  private static void discard(Path fresh, IOException cause) {
    try {
      Files.deleteIfExists(fresh);
    } catch (IOException e) {
      cause.addSuppressed(e);
    }
  }

  /** Makes a new or renamed file's entry in its folder lasting. */
  public static void forceFolder(Path file) throws IOException {
    Path folder = file.toAbsolutePath().getParent();
    if (POSIX && folder != null) {
      try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
        channel.force(true);
      }
    }
  }
}
