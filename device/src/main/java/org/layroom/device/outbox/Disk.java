package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** Writing in ways that a power cut cannot leave half done. Tests put a failing disk here. */
interface Disk {
  /** The computer's own disk. */
  Disk REAL =
      path ->
          new ChannelFile(
              FileChannel.open(path, StandardOpenOption.CREATE, StandardOpenOption.WRITE));

  /** Opens a file for appending; makes it when it is not there. */
  AppendFile open(Path path) throws IOException;

  /** A file that grows at its end. */
  interface AppendFile extends AutoCloseable {
    long size() throws IOException;

    void append(ByteBuffer bytes) throws IOException;

    /** Waits until the disk has what was appended. */
    void force() throws IOException;

    void cutTo(long size) throws IOException;

    @Override
    void close() throws IOException;
  }

  /** Replaces a small file whole: after a power cut there is the old or the new one. */
  static void replace(Path file, String text) throws IOException {
    Path fresh = file.resolveSibling(file.getFileName() + ".new");
    try (FileChannel channel =
        FileChannel.open(
            fresh,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE)) {
      ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
      while (bytes.hasRemaining()) {
        channel.write(bytes);
      }
      channel.force(true);
    }
    Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    forceFolder(file);
  }

  /** Makes a new or renamed file's entry in its folder lasting. */
  static void forceFolder(Path file) throws IOException {
    Path folder = file.toAbsolutePath().getParent();
    if (folder != null) {
      try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
        channel.force(true);
      }
    }
  }

  /** A file of the computer's own disk. */
  record ChannelFile(FileChannel channel) implements AppendFile {
    @Override
    public long size() throws IOException {
      return channel.size();
    }

    @Override
    public void append(ByteBuffer bytes) throws IOException {
      channel.position(channel.size());
      while (bytes.hasRemaining()) {
        channel.write(bytes);
      }
    }

    @Override
    public void force() throws IOException {
      channel.force(false);
    }

    @Override
    public void cutTo(long size) throws IOException {
      channel.truncate(size);
    }

    @Override
    public void close() throws IOException {
      channel.close();
    }
  }
}
