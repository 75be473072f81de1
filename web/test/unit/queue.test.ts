import { describe, expect, it } from "vitest";
import { NewestWins } from "../../src/api/queue";

/** A server that answers when it is told to. */
function slowServer() {
  const sent: number[] = [];
  const open: { answer: (text: string) => void; fail: (cause: unknown) => void }[] = [];
  const send = (n: number) => {
    sent.push(n);
    return new Promise<string>((answer, fail) => open.push({ answer, fail }));
  };
  const next = async (how: "answer" | "fail", text = "") => {
    open.shift()?.[how](text);
    await new Promise((r) => setTimeout(r, 0));
  };
  return { sent, send, next };
}

describe("the line to the server", () => {
  it("sends one request at a time, and of those that wait only the newest", async () => {
    const server = slowServer();
    const arrived: string[] = [];
    const line = new NewestWins(
      server.send,
      (a: string, n: number) => arrived.push(`${n}: ${a}`),
      () => {},
    );
    for (const n of [1, 2, 3, 4]) line.submit(n);
    expect(server.sent).toEqual([1]);
    await server.next("answer", "one");
    expect(server.sent).toEqual([1, 4]);
    await server.next("answer", "four");
    expect(arrived).toEqual(["1: one", "4: four"]);
    expect(line.busy).toBe(false);
  });

  it("goes on after a request that failed", async () => {
    const server = slowServer();
    const failed: number[] = [];
    const arrived: number[] = [];
    const line = new NewestWins(
      server.send,
      (_: string, n: number) => arrived.push(n),
      (_, n) => failed.push(n),
    );
    line.submit(1);
    line.submit(2);
    await server.next("fail");
    await server.next("answer");
    expect(failed).toEqual([1]);
    expect(arrived).toEqual([2]);
  });

  it("takes a request that is handed in while an answer arrives", async () => {
    const server = slowServer();
    const line: NewestWins<number, string> = new NewestWins(
      server.send,
      (_, n) => {
        if (n < 3) line.submit(n + 1);
      },
      () => {},
    );
    line.submit(1);
    for (let i = 0; i < 3; i++) await server.next("answer");
    expect(server.sent).toEqual([1, 2, 3]);
  });
});
