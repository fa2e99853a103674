import { describe, expect, it, vi } from "vitest";
import { bluetoothMeter, uuidOf } from "../../../src/view/measure/meters/bluetooth.ts";
import { serialMeter } from "../../../src/view/measure/meters/serial.ts";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A serial port without hardware. */
function fakePort() {
  let controller: ReadableStreamDefaultController<Uint8Array> | undefined;
  const fresh = (): ReadableStream<Uint8Array> =>
    new ReadableStream({
      start: (made) => {
        controller = made;
      },
    });
  const port = Object.assign(new EventTarget(), {
    readable: null as ReadableStream<Uint8Array> | null,
    opened: 0,
    isClosed: false,
    open: async ({ baudRate }: { baudRate: number }) => {
      port.opened = baudRate;
      port.readable = fresh();
    },
    close: async () => {
      port.isClosed = true;
    },
  });
  return {
    port,
    send: (text: string) => controller?.enqueue(bytes(text)),
    /** Noise: the stream ends with an error, and the port gives another. */
    stumble: () => {
      const before = controller;
      port.readable = fresh();
      before?.error(new Error("framing"));
    },
    unplug: () => {
      port.readable = null;
      controller?.error(new Error("gone"));
    },
  };
}

describe("a meter on a serial port", () => {
  it("passes whole lines on, wherever the stream is cut, and goes on after noise", async () => {
    const { port, send, stumble } = fakePort();
    const meter = serialMeter({ requestPort: async () => port }, 19_200, "cable");
    const lines: string[] = [];
    meter.onReading((line) => lines.push(line));
    await meter.open();
    expect(port.opened).toBe(19_200);
    send("74");
    send("21 mm\r\n7.4");
    send("15 m\r");
    await vi.waitFor(() => expect(lines).toEqual(["7421 mm", "7.415 m"]));
    stumble();
    await new Promise((resolve) => setTimeout(resolve, 5));
    send("7400\r");
    await vi.waitFor(() => expect(lines).toEqual(["7421 mm", "7.415 m", "7400"]));
    await meter.close();
    expect(port.isClosed).toBe(true);
  });

  it("says once that it is gone when it is unplugged, and not when it is closed", async () => {
    const first = fakePort();
    const gone = vi.fn();
    const meter = serialMeter({ requestPort: async () => first.port }, 9600, "cable");
    meter.onGone(gone);
    await meter.open();
    first.unplug();
    await vi.waitFor(() => expect(gone).toHaveBeenCalledTimes(1));

    const second = fakePort();
    const closed = serialMeter({ requestPort: async () => second.port }, 9600, "cable");
    closed.onGone(gone);
    await closed.open();
    await closed.close();
    expect(gone).toHaveBeenCalledTimes(1);
  });

  it("fails where no port is chosen", async () => {
    const meter = serialMeter({ requestPort: () => Promise.reject(new Error("none")) }, 9600, "cable");
    await expect(meter.open()).rejects.toThrow("none");
  });
});

/** A Bluetooth device without hardware. */
function fakeDevice() {
  const source = Object.assign(new EventTarget(), {
    value: undefined as DataView | undefined,
    isNotifying: false,
    startNotifications: async () => {
      source.isNotifying = true;
      return source;
    },
    stopNotifications: async () => {
      source.isNotifying = false;
      return source;
    },
  });
  const asked: string[] = [];
  const server = {
    connect: async () => server,
    disconnect: vi.fn(),
    getPrimaryService: async (service: string) => {
      asked.push(service);
      return {
        getCharacteristic: async (characteristic: string) => {
          asked.push(characteristic);
          return source;
        },
      };
    },
  };
  const device = Object.assign(new EventTarget(), { name: "fake", gatt: server });
  return {
    device,
    source,
    server,
    asked,
    notify: (text: string) => {
      const sent = bytes(`..${text}`);
      source.value = new DataView(sent.buffer, 2, text.length);
      source.dispatchEvent(new Event("characteristicvaluechanged"));
    },
  };
}

describe("a meter over Bluetooth", () => {
  it("passes notifications on as lines: those that end as such, and those that nothing follows", async () => {
    const { device, source, server, asked, notify } = fakeDevice();
    const meter = bluetoothMeter({ requestDevice: async () => device }, "service", "characteristic", "air");
    const lines: string[] = [];
    const gone = vi.fn();
    meter.onReading((line) => lines.push(line));
    meter.onGone(gone);
    await meter.open();
    expect(asked).toEqual(["service", "characteristic"]);
    expect(source.isNotifying).toBe(true);
    notify("7.4");
    notify("21 m\r\n");
    expect(lines).toEqual(["7.421 m"]);
    notify("7415 mm");
    await vi.waitFor(() => expect(lines).toEqual(["7.421 m", "7415 mm"]));
    await meter.close();
    expect(server.disconnect).toHaveBeenCalled();
    device.dispatchEvent(new Event("gattserverdisconnected"));
    expect(gone).not.toHaveBeenCalled();
  });

  it("says that it is gone when it is out of reach", async () => {
    const { device } = fakeDevice();
    const meter = bluetoothMeter({ requestDevice: async () => device }, "service", "characteristic", "air");
    const gone = vi.fn();
    meter.onGone(gone);
    await meter.open();
    device.dispatchEvent(new Event("gattserverdisconnected"));
    expect(gone).toHaveBeenCalledTimes(1);
  });

  it("takes UUIDs whole or in the short form that papers print, and nothing else", () => {
    // Bluetooth Core Specification, vol. 3, part B, 2.5.1: 0000xxxx-0000-1000-8000-00805F9B34FB.
    expect(uuidOf("180F")).toBe("0000180f-0000-1000-8000-00805f9b34fb");
    expect(uuidOf(" 0x180f ")).toBe("0000180f-0000-1000-8000-00805f9b34fb");
    const whole = "12345678-1234-5678-1234-56789abcdef0";
    expect(uuidOf(whole.toUpperCase())).toBe(whole);
    expect(uuidOf("")).toBeUndefined();
    expect(uuidOf("meter")).toBeUndefined();
  });
});
