import { chromium } from "playwright-core";
const url = process.env.LONGGRAIN_URL ?? "http://127.0.0.1:7611";
const want = process.argv.slice(2);
const b = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox","--disable-quic","--use-angle=swiftshader","--enable-unsafe-swiftshader","--force-color-profile=srgb"] });
const text = (await import("node:fs")).readFileSync("../examples/play-table.yaml","utf8");
let shelf = await (await fetch(url+"/api/shelf")).json();
if (!shelf.pieces.length) { await fetch(url+"/api/pieces",{method:"POST",headers:{"Content-Type":"application/json"},body:JSON.stringify({text})}); shelf = await (await fetch(url+"/api/shelf")).json(); }
const id = shelf.pieces.find(p=>/table/i.test(p.name)).id;
for (const [size, w, h] of [["wide",1280,800],["phone",390,844]]) for (const scheme of ["light","dark"]) {
  const name = `${size}-${scheme}`;
  const ctx = await b.newContext({ viewport:{width:w,height:h}, colorScheme: scheme, reducedMotion:"reduce", deviceScaleFactor: size==="phone"?2:1 });
  const p = await ctx.newPage();
  p.on("console", m => { if (["error","warning"].includes(m.type())) console.log(name, m.type(), m.text()); });
  p.on("pageerror", e => console.log(name, "pageerror", e.message));
  const shot = async (n, full) => { if (!want.length || want.some(x=>`${n}-${name}`.includes(x))) await p.screenshot({ path:`/tmp/front/${n}-${name}.png`, fullPage: !!full }); };
  await p.goto(url+"/"); await p.waitForSelector(".piece"); await p.waitForTimeout(500);
  await shot("shelf", true);
  await p.goto(url+"/piece/"+id); await p.waitForSelector(".chapter, .size"); await p.waitForFunction(()=>document.querySelector(".hands")); await p.waitForTimeout(900);
  await shot("bench");
  const chapters = async () => { if (size==="phone") await p.getByRole("tab",{name:"Chapters"}).click(); };
  await chapters(); await p.waitForTimeout(200); await shot("chapters");
  await p.getByRole("button",{name:"Does it hold"}).click(); await p.waitForSelector(".document table"); await p.waitForTimeout(500);
  await shot("holds");
  await p.getByRole("button",{name:"Joints"}).click(); await p.waitForTimeout(1200); await shot("joints");
  await p.getByRole("tab",{name:"Parts"}).click(); await p.locator(".part").nth(4).click();
  await p.getByText("See through").click(); await p.waitForTimeout(300);
  await p.locator(".apart input").evaluate(e=>{e.value="0.7";e.dispatchEvent(new Event("input",{bubbles:true}))}); await p.waitForTimeout(400);
  await shot("parts");
  await p.getByRole("tab",{name:"Text"}).click(); await p.waitForTimeout(200); await shot("text");
  await p.getByRole("tab",{name:"Sizes"}).click(); const f=p.getByLabel("Length",{exact:true}); await f.fill("900"); await f.press("Enter"); await p.waitForTimeout(700); await shot("bad");
  await p.getByRole("button",{name:"Print and files"}).click(); await p.waitForTimeout(300); await shot("files");
  await p.goto(url+"/shop"); await p.waitForSelector("textarea"); await p.waitForTimeout(200); await shot("shop");
  await ctx.close();
}
await b.close();
