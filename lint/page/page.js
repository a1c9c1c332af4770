(function(){
	// What is folded away on the screen stands on paper.
	var shut=[];
	addEventListener("beforeprint",function(){shut=[].slice.call(document.querySelectorAll("details.hh:not([open])"));shut.forEach(function(d){d.open=true;});});
	addEventListener("afterprint",function(){shut.forEach(function(d){d.open=false;});});
	// A choice of order over the table of everybody.
	var table=document.querySelector("table.ev");
	if(!table||table.querySelectorAll("[data-o]").length<3)return;
	var bodies=[].slice.call(table.tBodies),rows=[].slice.call(table.querySelectorAll("[data-o]")),home=rows.map(function(r){return r.parentNode;});
	var label=document.createElement("label"),select=document.createElement("select");
	label.className="order";
	label.appendChild(document.createTextNode("Order "));
	["by name","fewest fixes away first","most over the cap first","least water first","least food first","first due"].forEach(function(text,i){
		var o=document.createElement("option");o.value=i;o.textContent=text;select.appendChild(o);
	});
	label.appendChild(select);
	table.parentNode.insertBefore(label,table);
	function key(row,col){var v=row.getAttribute("data-o").split(" ")[col];return v==="-"?Infinity:Number(v);}
	select.addEventListener("change",function(){
		var col=select.value-1;
		[].forEach.call(table.querySelectorAll(".vil"),function(v){v.hidden=col>=0;});
		if(col<0){rows.forEach(function(r,i){home[i].appendChild(r);});return;}
		rows.map(function(r,i){return{r:r,i:i,k:key(r,col)};}).sort(function(a,b){return a.k===b.k?a.i-b.i:a.k<b.k?-1:1;}).forEach(function(x){bodies[0].appendChild(x.r);});
	});
})();
