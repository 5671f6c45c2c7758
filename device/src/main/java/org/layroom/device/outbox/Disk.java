package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
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
