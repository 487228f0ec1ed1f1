import { type Markup, markup, raw } from "./markup.ts";
import { REPORT_CSS } from "./style.ts";

/** An HTML file that opens anywhere without a network: no scripts, style inline. `css` comes after the report's own. */
export function documentHtml(title: string, css: string, body: Markup): string {
  return `<!doctype html>\n${
    markup`<html lang="en"><head><meta charset="utf-8"/><meta name="viewport" content="width=device-width, initial-scale=1"/><meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'"/><title>${title}</title><style>${raw(REPORT_CSS)}${raw(css)}</style></head><body>${body}</body></html>`
      .text
  }\n`;
}
