// A line to the server in which at most one request is under way and only the newest waits.

/**
 * NewestWins sends requests one at a time. A request handed in while another is under way replaces the
 * one that waits, so a size dragged across the screen costs as many plans as the server has time for,
 * and the last one is always worked out.
 */
export class NewestWins<Request, Answer> {
  private waiting: { request: Request } | undefined;
  private running = false;

  /** arrived and failed are called in the order of the requests that were sent. */
  constructor(
    private readonly send: (request: Request) => Promise<Answer>,
    private readonly arrived: (answer: Answer, request: Request) => void,
    private readonly failed: (cause: unknown, request: Request) => void,
  ) {}

  /** True while a request is under way or waits. */
  get busy(): boolean {
    return this.running;
  }

  submit(request: Request): void {
    this.waiting = { request };
    if (!this.running) void this.run();
  }

  /** Forgets the request that waits; the one under way still arrives. */
  clear(): void {
    this.waiting = undefined;
  }

  private async run(): Promise<void> {
    this.running = true;
    while (this.waiting) {
      const { request } = this.waiting;
      this.waiting = undefined;
      let answer: Answer;
      try {
        answer = await this.send(request);
      } catch (cause) {
        this.failed(cause, request);
        continue;
      }
      this.arrived(answer, request);
    }
    this.running = false;
  }
}
