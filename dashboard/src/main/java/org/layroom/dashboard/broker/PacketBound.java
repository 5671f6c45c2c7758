package org.layroom.dashboard.broker;

import io.netty.buffer.ByteBuf;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.util.ReferenceCountUtil;
import org.layroom.device.telemetry.Topic;

/**
 * Closes a connection as soon as a packet announces more than the contract's largest message and
 * room for its topic and properties; nothing of it is gathered. Fixed header and remaining length:
 * MQTT 3.1.1, section 2.2.
 */
final class PacketBound extends ChannelInboundHandlerAdapter {
  private static final int LARGEST = Topic.LARGEST_MESSAGE_BYTES + 4096;
  private static final int LAST_SHIFT = 21;

  private final Gate gate;
  private long left;
  private boolean inLength;
  private int shift;
  private long length;

  PacketBound(Gate gate) {
    this.gate = gate;
  }

  @Override
  public void channelRead(ChannelHandlerContext context, Object message) {
    if (message instanceof ByteBuf bytes && !fits(bytes)) {
      ReferenceCountUtil.release(message);
      gate.refused(RefusalLog.Reason.LARGE_PACKET, context.channel());
      return;
    }
    context.fireChannelRead(message);
  }

  private boolean fits(ByteBuf bytes) {
    int at = bytes.readerIndex();
    while (at < bytes.writerIndex()) {
      if (left > 0) {
        long skip = Math.min(left, bytes.writerIndex() - at);
        at += (int) skip;
        left -= skip;
      } else if (!header(bytes.getByte(at++))) {
        return false;
      }
    }
    return true;
  }

  /** The next byte of a fixed header; false when what it announces is too much. */
  private boolean header(byte next) {
    if (!inLength) {
      inLength = true;
      shift = 0;
      length = 0;
      return true;
    }
    if (shift > LAST_SHIFT) {
      return false;
    }
    length |= (long) (next & 0x7f) << shift;
    shift += 7;
    if (next >= 0) {
      inLength = false;
      left = length;
    }
    return length <= LARGEST;
  }
}
